#pragma once
// Who may sign in, and who is signed in. Both are kept in one file beside the book
// (`room.db.people`, JSON, readable by its owner alone), written whole or not at all.
//
// The server and `warmside people` may use the file at the same time: each change is made under a
// lock on the file `room.db.people.lock` to what the file holds then, and reading notices a file
// that another program has written.
//
// A session is a random token that the browser keeps; the file has only its hash. It ends thirty
// days after signing in, when the person signs out, is taken out or is given another passphrase.

#include <cstdint>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "core/time.h"
#include "core/words.h"

namespace warmside::web {

/// A sitter sees and ticks the round; a keeper does everything but people and files; an owner all.
enum class Role { owner, keeper, sitter };

struct Person {
  std::string name;
  Role role = Role::keeper;
};

constexpr std::size_t kFewestPassphraseLetters = 12;  // common practice, no source
constexpr std::size_t kMostPassphraseBytes = 1024;
constexpr std::size_t kMostNameBytes = 64;

class People {
 public:
  /// The people of a book. No file: nobody. Throws MachineFailure where it cannot be read or is
  /// not ours.
  explicit People(const std::string& book_path);

  std::vector<Person> all();

  /// Adds a person, or gives a known one another role and passphrase and ends their sessions.
  /// Problems (bad_value): a name or passphrase that cannot be; (conflict): the last owner would be
  /// one no more.
  Problems put(const Person& person, const std::string& passphrase);
  /// Problems: nobody of this name (unknown_name), the last owner (conflict).
  Problems remove(const std::string& name);

  /// A new session's token; null: the name and passphrase do not belong together.
  std::optional<std::string> sign_in(const std::string& name, const std::string& passphrase,
                                     Instant now);
  /// Who has this token; null: nobody, or no longer.
  std::optional<Person> signed_in(std::string_view token, Instant now);
  void sign_out(std::string_view token);

 private:
  struct Known {
    Role role = Role::keeper;
    std::string hash;  // of the passphrase
  };
  struct Session {
    std::string name;
    std::int64_t until_ms = 0;
  };
  struct State {
    std::map<std::string, Known> people;
    std::map<std::string, Session> sessions;  // by the token's hash
  };
  class FileLock;

  State& current();
  State read() const;
  void write(const State& state);
  template <class Step>
  auto change(Step step);

  const std::string path_;
  std::mutex mutex_;
  State state_;
  std::string stamp_;  // of the file that state_ was read from
};

/// How long a name or an address must wait after failed tries to sign in. In memory, of limited
/// size.
class SignInPatience {
 public:
  /// Seconds until another try is allowed; 0: now.
  int wait_s(const std::string& name, const std::string& address, Instant now);
  void failed(const std::string& name, const std::string& address, Instant now);
  void succeeded(const std::string& name, const std::string& address);

 private:
  struct Tries {
    int failed = 0;
    Instant free_at;
  };
  void note(const std::string& key, int longest_s, Instant now);

  std::mutex mutex_;
  std::map<std::string, Tries> tries_;
};

}  // namespace warmside::web

namespace warmside {

template <>
struct Words<web::Role> {
  static constexpr std::array<std::string_view, 3> list{"owner", "keeper", "sitter"};
};

}  // namespace warmside
