#pragma once
// The numbered steps that bring a book file from one form to the next: src/book/migrations/*.sql,
// built into the program. Step n takes a file with user_version n-1 to n. A step that has been
// released is never edited; a new form gets a new step.

#include <array>
#include <string_view>

namespace warmside::book {

std::string_view migration_0001();
std::string_view migration_0002();
std::string_view migration_0003();
std::string_view migration_0004();

inline std::array<std::string_view, 4> all_migrations() {
  return {migration_0001(), migration_0002(), migration_0003(), migration_0004()};
}

}  // namespace warmside::book
