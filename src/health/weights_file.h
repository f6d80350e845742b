#pragma once
// Weighings on a plain file, without a book: comma-separated text with the columns animal, time and
// mass_g, in any order. A time is RFC 3339, or a date, which is read as its noon in UTC.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "core/time.h"
#include "health/weights.h"

namespace warmside::health {

struct AnimalWeighings {
  std::string animal;
  std::vector<Weighed> weighed;  // days since 1970-01-01 UTC
  std::vector<int> lines;        // of the file, one for each
};

/// The animals in the order in which they first stand in the file. A mass of nothing is no error of
/// the file: the model will not believe it.
Checked<std::vector<AnimalWeighings>> read_weighings(std::string_view text,
                                                     const std::string& file);

/// One animal of a file, judged at its last weighing.
struct JudgedAnimal {
  std::string animal;
  std::optional<WeightReport> report;  // null: no weighing could be believed
  struct LeftOut {
    int line = 0;
    double mass_g = 0;
    std::string why;
  };
  std::vector<LeftOut> left_out;  // in order of lines
};
/// The animals of a file, taken as one kind of which nothing else is known.
std::vector<JudgedAnimal> judge(const std::vector<AnimalWeighings>& animals);

/// The day of a weighing's clock.
Date date_of_day(double day);

}  // namespace warmside::health
