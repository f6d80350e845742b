#pragma once
// The rota as one mixed-integer programme, meal by meal as docs/models/diet.md writes it: for
// another solver to check (`warmside diet rota FILE --model rota.lp`) and for the benchmark. The
// program itself does not solve this form, which is too slow for a room: see diet/rota.cpp.

#include <limits>
#include <string>
#include <vector>

#include "diet/rota.h"

namespace warmside::diet {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// min of cost x; low <= x <= high, some whole; low <= rows x <= high.
struct LinearProgram {
  struct Column {
    std::string name;
    double cost = 0, low = 0, high = kInfinity;
    bool whole = false;
  };
  struct Entry {
    int column;
    double factor;
  };
  struct Row {
    std::string name;
    double low = -kInfinity, high = kInfinity;
    std::vector<Entry> entries;
  };
  std::vector<Column> columns;
  std::vector<Row> rows;

  /// Each gives the index of what was added.
  int add(Column column);
  int add(Row row);
};

/// In the LP format that CBC, GLPK and others read.
std::string as_lp_text(const LinearProgram& program);

struct LinearLimits {
  int nodes = 1'000'000;
  double seconds = 1e9;  // a benchmark's; with it an answer depends on the machine
};
struct LinearAnswer {
  bool feasible = false;  // x holds a solution
  bool proven = false;    // the best one; or, where there is none, that there is none
  double cost = kInfinity;
  double bound = -kInfinity;
  std::vector<double> x;
};
/// By CBC, on one thread.
LinearAnswer solve_by_cbc(const LinearProgram& program, const LinearLimits& limits = {});

/// The whole rota; `open_*` a jar on a day, `meal_*` a meal's food and jar, `pieces_*` how many.
LinearProgram whole_rota(const RotaProblem& problem);

}  // namespace warmside::diet
