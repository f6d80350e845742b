// people: who may sign in to the served book.

#include <termios.h>
#include <unistd.h>

#include <iostream>
#include <memory>

#include "cli/face.h"
#include "web/people.h"

namespace warmside::cli {
namespace {

/// While it lives, the terminal does not show what is typed.
class Silence {
 public:
  Silence() : terminal_(tcgetattr(STDIN_FILENO, &before_) == 0) {
    if (!terminal_) return;
    termios silent = before_;
    silent.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &silent);
  }
  ~Silence() {
    if (terminal_) tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  Silence(const Silence&) = delete;
  Silence& operator=(const Silence&) = delete;
  bool terminal() const { return terminal_; }

 private:
  termios before_{};
  bool terminal_;
};

/// From the terminal twice and unseen, or the first line of what is piped in.
std::optional<std::string> asked_passphrase(Face& face) {
  const Silence silence;
  const auto line = [&](const char* prompt) {
    std::string text;
    if (silence.terminal()) face.err << prompt << std::flush;
    std::getline(std::cin, text);
    if (silence.terminal()) face.err << "\n";
    return text;
  };
  const std::string first = line("Passphrase, at least 12 letters (four words by chance do): ");
  if (silence.terminal() && line("Once more: ") != first) {
    face.refuse(
        Problem{ProblemCode::bad_value, "the two passphrases differ", {}, "the same twice", ""});
    return std::nullopt;
  }
  return first;
}

struct PeopleOptions {
  BookOption book;
  std::string name, role = "keeper";
};

/// A list of people belongs to a book: a name typed wrong must not make a list of its own.
bool book_is_there(const PeopleOptions& options, Face& face) {
  const auto book = book::Book::open(options.book.path);
  if (!book) face.refuse(book.problem());
  return book.ok();
}

}  // namespace

void add_people_command(CLI::App& program, Face& face) {
  auto* people = program.add_subcommand("people", "who may sign in to the served book");
  people->require_subcommand(1);
  auto options = std::make_shared<PeopleOptions>();

  auto* add = people->add_subcommand(
      "add", "add a person, or give a known one another passphrase and role");
  options->book.add_to(*add);
  add->add_option("NAME", options->name, "as the person will type it")->required();
  add->add_option("--role", options->role,
                  "sitter: sees and ticks the round; keeper: all but people and files; owner: all")
      ->check(CLI::IsMember({"owner", "keeper", "sitter"}))
      ->type_name("ROLE");
  add->footer(
      "The passphrase is asked for, or read from a pipe.\n"
      "Example:\n  warmside people add Ada --role owner --book room.db");
  add->callback([options, &face] {
    if (!book_is_there(*options, face)) return;
    const auto passphrase = asked_passphrase(face);
    if (!passphrase) return;
    web::People all(options->book.path);
    const auto role = *from_word<web::Role>(options->role);
    const Problems problems = all.put({options->name, role}, *passphrase);
    if (!problems.empty()) return face.refuse(problems);
    face.out << options->name << " may sign in as " << options->role << "\n";
  });

  auto* list = people->add_subcommand("list", "names and roles");
  options->book.add_to(*list);
  list->callback([options, &face] {
    if (!book_is_there(*options, face)) return;
    for (const web::Person& person : web::People(options->book.path).all()) {
      face.out << word(person.role) << "  " << person.name << "\n";
    }
  });

  auto* remove = people->add_subcommand("remove", "take a person out and end their sessions");
  options->book.add_to(*remove);
  remove->add_option("NAME", options->name, "as `warmside people list` shows it")->required();
  remove->callback([options, &face] {
    if (!book_is_there(*options, face)) return;
    const Problems problems = web::People(options->book.path).remove(options->name);
    if (!problems.empty()) return face.refuse(problems);
    face.out << options->name << " is taken out\n";
  });
}

}  // namespace warmside::cli
