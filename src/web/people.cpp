#include "web/people.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>

#include "book/files.h"
#include "core/problem.h"
#include "web/json_internal.h"
#include "web/secrets.h"

namespace warmside::web {
namespace {

constexpr std::int64_t kSession_ms = 30LL * 24 * 3600 * 1000;  // common practice, no source
constexpr std::size_t kMostSessionsOfOne = 20;                 // devices; the oldest goes first
constexpr std::size_t kMostPeople = 200;

Problem refusal(ProblemCode code, std::string what, const char* field, std::string expected) {
  return {code, std::move(what), {"", 0, field}, std::move(expected), ""};
}

Problems check(const Person& person, const std::string& passphrase) {
  Problems problems;
  const bool control = std::any_of(person.name.begin(), person.name.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f || c == '/';
  });
  if (person.name.empty() || person.name.size() > kMostNameBytes || control) {
    problems.push_back(refusal(ProblemCode::bad_value, "not a name", "name",
                               "1 to 64 bytes without a slash or control characters"));
  }
  // Letters, not bytes: continuation bytes of UTF-8 do not count.
  const auto letters = std::count_if(passphrase.begin(), passphrase.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;
  });
  if (static_cast<std::size_t>(letters) < kFewestPassphraseLetters ||
      passphrase.size() > kMostPassphraseBytes) {
    problems.push_back(
        refusal(ProblemCode::bad_value,
                passphrase.size() > kMostPassphraseBytes ? "the passphrase is too long"
                                                         : "the passphrase is too short",
                "passphrase", "at least 12 letters, such as four words that you pick by chance"));
  }
  return problems;
}

/// What tells one writing of a file from another.
std::string stamp_of(const std::string& path) {
  struct stat s {};
  if (::stat(path.c_str(), &s) != 0) return "none";
  return fmt::format("{} {} {}.{:09}", s.st_ino, s.st_size, s.st_mtim.tv_sec, s.st_mtim.tv_nsec);
}

}  // namespace

/// While it lives, no other program changes the people.
class People::FileLock {
 public:
  explicit FileLock(const std::string& path)
      : file_(::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600)) {
    if (file_ < 0 || ::flock(file_, LOCK_EX) != 0) {
      const std::string why = std::strerror(errno);
      if (file_ >= 0) ::close(file_);
      throw MachineFailure(fmt::format("{}: cannot be locked ({})", path, why));
    }
  }
  ~FileLock() { ::close(file_); }
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;

 private:
  int file_;
};

People::People(const std::string& book_path) : path_(book_path + ".people") {
  const std::lock_guard lock(mutex_);
  current();
}

/// The state as the file has it now.
People::State& People::current() {
  const std::string stamp = stamp_of(path_);
  if (stamp != stamp_) {
    state_ = read();
    stamp_ = stamp;
  }
  return state_;
}

People::State People::read() const {
  State state;
  std::ifstream in(path_, std::ios::binary);
  if (!in) {
    if (stamp_of(path_) == "none") return state;
    throw MachineFailure(path_ + ": cannot be read");
  }
  const std::string text(std::istreambuf_iterator<char>(in), {});
  const auto json = parse_json(text);
  try {
    if (!json) throw std::runtime_error(json.problem().what);
    for (const Json& person : json->at("people")) {
      const auto role = from_word<Role>(person.at("role").get<std::string>());
      if (!role) throw std::runtime_error("an unknown role");
      state.people[person.at("name").get<std::string>()] = {
          *role, person.at("passphrase").get<std::string>()};
    }
    for (const Json& session : json->at("sessions")) {
      state.sessions[session.at("token").get<std::string>()] = {
          session.at("name").get<std::string>(), session.at("until_ms").get<std::int64_t>()};
    }
  } catch (const std::exception& e) {
    throw MachineFailure(fmt::format(
        "{}: not a list of people ({}); move it away and add them again", path_, e.what()));
  }
  return state;
}

void People::write(const State& state) {
  Json json{{"people", Json::array()}, {"sessions", Json::array()}};
  for (const auto& [name, known] : state.people) {
    json["people"].push_back(
        {{"name", name}, {"role", word(known.role)}, {"passphrase", known.hash}});
  }
  for (const auto& [token, session] : state.sessions) {
    json["sessions"].push_back(
        {{"token", token}, {"name", session.name}, {"until_ms", session.until_ms}});
  }
  book::write_whole_file(
      path_, [&](const auto& put) { put(text_of(json)); }, book::Readers::owner);
}

/// step(state) changes a copy and says whether it is to be kept with its answer.
template <class Step>
auto People::change(Step step) {
  const std::lock_guard lock(mutex_);
  const FileLock file_lock(path_ + ".lock");
  State state = current();
  auto [answer, keep] = step(state);
  if (keep) {
    write(state);
    state_ = std::move(state);
    stamp_ = stamp_of(path_);
  }
  return answer;
}

std::vector<Person> People::all() {
  const std::lock_guard lock(mutex_);
  std::vector<Person> people;
  for (const auto& [name, known] : current().people) people.push_back({name, known.role});
  return people;
}

namespace {

/// Whether somebody but this one is an owner.
template <class Known>
bool another_owner(const std::map<std::string, Known>& people, const std::string& name) {
  return std::any_of(people.begin(), people.end(), [&](const auto& person) {
    return person.first != name && person.second.role == Role::owner;
  });
}

template <class Sessions>
void end_sessions(Sessions& sessions, const std::string& name) {
  std::erase_if(sessions, [&](const auto& session) { return session.second.name == name; });
}

}  // namespace

Problems People::put(const Person& person, const std::string& passphrase) {
  Problems problems = check(person, passphrase);
  if (!problems.empty()) return problems;
  const std::string hash = passphrase_hash(passphrase);  // slow, so not under the lock
  return change([&](State& state) -> std::pair<Problems, bool> {
    const bool known = state.people.contains(person.name);
    if (person.role != Role::owner && !another_owner(state.people, person.name)) {
      return {{refusal(ProblemCode::conflict,
                       known ? "the last owner must stay one" : "the first person must be an owner",
                       "role", "owner")},
              false};
    }
    if (!known && state.people.size() >= kMostPeople) {
      return {{refusal(ProblemCode::conflict, "there are too many people", "name", "at most 200")},
              false};
    }
    state.people[person.name] = {person.role, hash};
    end_sessions(state.sessions, person.name);
    return {{}, true};
  });
}

Problems People::remove(const std::string& name) {
  return change([&](State& state) -> std::pair<Problems, bool> {
    if (!state.people.contains(name)) {
      return {{refusal(ProblemCode::unknown_name, "nobody of this name", "name",
                       "a name that `warmside people list` shows")},
              false};
    }
    if (!another_owner(state.people, name)) {
      return {{refusal(ProblemCode::conflict, "the last owner cannot be taken out", "name",
                       "another owner first")},
              false};
    }
    state.people.erase(name);
    end_sessions(state.sessions, name);
    return {{}, true};
  });
}

std::optional<std::string> People::sign_in(const std::string& name, const std::string& passphrase,
                                           Instant now) {
  std::optional<std::string> hash;
  {
    const std::lock_guard lock(mutex_);
    const auto& people = current().people;
    if (const auto at = people.find(name); at != people.end()) hash = at->second.hash;
  }
  if (!hash) {
    pretend_to_check(passphrase);
    return std::nullopt;
  }
  if (!passphrase_fits(passphrase, *hash)) return std::nullopt;
  const std::string token = random_token();
  return change([&](State& state) -> std::pair<std::optional<std::string>, bool> {
    const auto at = state.people.find(name);
    // Another passphrase was given while this one was checked.
    if (at == state.people.end() || at->second.hash != *hash) return {std::nullopt, false};
    auto& sessions = state.sessions;
    std::erase_if(sessions, [&](const auto& s) { return s.second.until_ms <= now.unix_ms(); });
    std::vector<std::map<std::string, Session>::iterator> own;
    for (auto s = sessions.begin(); s != sessions.end(); ++s) {
      if (s->second.name == name) own.push_back(s);
    }
    if (own.size() >= kMostSessionsOfOne) {
      sessions.erase(*std::min_element(own.begin(), own.end(), [](const auto& a, const auto& b) {
        return a->second.until_ms < b->second.until_ms;
      }));
    }
    sessions[token_hash(token)] = {name, now.unix_ms() + kSession_ms};
    return {token, true};
  });
}

std::optional<Person> People::signed_in(std::string_view token, Instant now) {
  if (token.empty()) return std::nullopt;
  // Looked up by hash: how long that takes tells nothing of a token that would fit.
  const std::string hash = token_hash(token);
  const std::lock_guard lock(mutex_);
  const State& state = current();
  const auto session = state.sessions.find(hash);
  if (session == state.sessions.end() || session->second.until_ms <= now.unix_ms()) {
    return std::nullopt;
  }
  const auto known = state.people.find(session->second.name);
  if (known == state.people.end()) return std::nullopt;
  return Person{known->first, known->second.role};
}

void People::sign_out(std::string_view token) {
  if (token.empty()) return;
  change([&](State& state) -> std::pair<bool, bool> {
    const bool was_there = state.sessions.erase(token_hash(token)) > 0;
    return {was_there, was_there};
  });
}

// --- Patience -----------------------------------------------------------------------------------

namespace {

// All common practice, no source. A name waits less at most than an address, so that a stranger
// who tries an owner's name from elsewhere cannot keep the owner out for long.
constexpr int kFreeTries = 3;
constexpr int kLongestForName_s = 60, kLongestForAddress_s = 900;
constexpr int kForgotten_s = 3600;
constexpr std::size_t kMostKeys = 4096;

}  // namespace

int SignInPatience::wait_s(const std::string& name, const std::string& address, Instant now) {
  const std::lock_guard lock(mutex_);
  int longest = 0;
  for (const std::string& key : {"n " + name, "a " + address}) {
    const auto at = tries_.find(key);
    if (at == tries_.end() || at->second.free_at <= now) continue;
    longest = std::max(longest, 1 + static_cast<int>((at->second.free_at - now).seconds()));
  }
  return longest;
}

void SignInPatience::note(const std::string& key, int longest_s, Instant now) {
  if (tries_.size() >= kMostKeys && !tries_.contains(key)) {
    std::erase_if(tries_, [&](const auto& tries) { return tries.second.free_at < now; });
    // All still waiting: the one that is free first makes room.
    if (tries_.size() >= kMostKeys) {
      tries_.erase(std::min_element(tries_.begin(), tries_.end(), [](const auto& a, const auto& b) {
        return a.second.free_at < b.second.free_at;
      }));
    }
  }
  Tries& tries = tries_[key];
  if (tries.failed > 0 && now - tries.free_at > Duration::seconds(kForgotten_s)) tries.failed = 0;
  ++tries.failed;
  const int doublings = std::clamp(tries.failed - kFreeTries, 0, 20);
  const int wait = tries.failed < kFreeTries ? 0 : std::min(1 << doublings, longest_s);
  tries.free_at = now + Duration::seconds(wait);
}

void SignInPatience::failed(const std::string& name, const std::string& address, Instant now) {
  const std::lock_guard lock(mutex_);
  note("n " + name, kLongestForName_s, now);
  note("a " + address, kLongestForAddress_s, now);
}

void SignInPatience::succeeded(const std::string& name, const std::string& address) {
  const std::lock_guard lock(mutex_);
  tries_.erase("n " + name);
  tries_.erase("a " + address);
}

}  // namespace warmside::web
