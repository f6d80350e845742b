#pragma once
// What can be wrong with the data a person gave us, said so that they can mend it.
//
// A Problem is an answer, not a failure of the program: a bad line in a file, an unknown animal,
// a quantity without a unit. Readers collect every Problem they meet and then refuse the whole.
// When the machine itself fails (disk full, no permission) MachineFailure is thrown instead and
// caught once in each face. Mistakes of ours are caught by WS_CHECK (check.h).

#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace warmside {

/// The kind of a problem, for programs; people read Problem::what.
enum class ProblemCode {
  bad_syntax,    // the text cannot be read at all
  bad_value,     // read, but not what this place holds (wrong unit, unknown word)
  missing,       // a field or record that must be there is not
  unknown_name,  // names an animal, enclosure, ... that the room does not have
  duplicate,     // the same id twice with different content
  out_of_range,  // physically impossible or outside what a formula covers
  conflict,      // contradicts what the book already holds
  not_a_book,    // the file is not a room book, or is damaged
  too_new,       // written by a newer Warmside
  busy           // another program holds the book
};

/// The word for a code in messages and JSON, such as "bad_value".
const char* name_of(ProblemCode code);

/// Where a problem stands; empty strings and line 0 mean "does not apply".
struct Where {
  std::string file;
  int line = 0;
  std::string field;
  bool operator==(const Where&) const = default;
};

/// One thing that is wrong.
struct Problem {
  ProblemCode code = ProblemCode::bad_value;
  std::string what;  // one sentence without a full stop
  Where where;
  std::string expected;  // what would be right, with an example; may be empty
  std::string found;     // the offending text, shortened; may be empty
  bool operator==(const Problem&) const = default;
};

using Problems = std::vector<Problem>;

/// A text from outside, made fit for Problem::found: one line of at most 40 bytes of UTF-8, with
/// '?' for control characters and for what is not UTF-8.
std::string shown(std::string_view text);

/// One line for people: "room.toml:12: animal.species: unknown species; expected ...; found ...".
std::string to_line(const Problem& problem);

/// Problems of a whole document, which know their field ("animal.0.offer.1.pieces"), put in their
/// file and at the line of the field or of the nearest part above it that `lines` knows.
Problems placed(Problems problems, const std::string& file,
                const std::map<std::string, int>& lines);

/// The disk is full, a file cannot be read or written, a sync failed. Faces turn it into exit
/// code 3 (or HTTP 5xx). Nothing is half-written when it is thrown.
class MachineFailure : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace warmside
