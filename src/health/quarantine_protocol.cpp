#include "health/quarantine_protocol.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace warmside::health {
namespace {

using species::Key;

/// A bound on a keeper's own number, so that dates stay dates. Our choice: a century.
constexpr double kMostDays = 36'500;

char small(char c) {
  return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
}
bool is_letter(char c) {
  return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

}  // namespace

Range<Duration> day_range(std::string_view rule) {
  return *parse_range<Duration>(species::care_rules().rule(rule).value);
}
int count_of(std::string_view rule) {
  return std::stoi(species::care_rules().rule(rule).value);
}

bool mentions(std::string_view text, std::string_view key) {
  for (std::size_t at = 0; at + key.size() <= text.size(); ++at) {
    if (at > 0 && is_letter(text[at - 1])) continue;
    const bool same = std::equal(key.begin(), key.end(), text.begin() + at,
                                 [](char a, char b) { return small(a) == small(b); });
    const std::size_t end = at + key.size();
    if (same && (key.size() > 3 || end == text.size() || !is_letter(text[end]))) return true;
  }
  return false;
}

bool is_faecal(std::string_view text) {
  return mentions(text, "faecal") || mentions(text, "fecal");
}
bool is_cryptosporidium(std::string_view text) {
  return mentions(text, "crypto");
}

namespace {

std::vector<std::string_view> split(std::string_view text, std::string_view separators) {
  std::vector<std::string_view> parts;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(separators), text.size());
    if (end > 0) parts.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return parts;
}

/// What a named test looks for: "Bd and Bsal duplex qPCR swab" names Bd and Bsal, "inclusion body
/// disease PCR" one thing. Words about the method end it; a text without such words is one name.
std::vector<std::string> sought(std::string_view piece) {
  std::vector<std::string> names(1);
  for (const std::string_view token : split(piece, " ")) {
    const auto is = [&](std::string_view w) { return mentions(token, w); };
    if (token.front() == '(' || is("PCR") || is("qPCR") || is("swab") || is("duplex") ||
        is("test") || is("tests")) {
      break;
    }
    if (token == "and") {
      names.emplace_back();
    } else {
      names.back() += (names.back().empty() ? "" : " ") + std::string(token);
    }
  }
  std::erase(names, "");
  return names;
}

void read_tests(const species::Profile& profile, Protocol& protocol) {
  const species::Fact* fact = profile.find(Key::quarantine_tests);
  if (fact == nullptr) {
    protocol.faecal = count_of("quarantine_faecal_negatives");
    protocol.mites = !is_amphibian(profile.group);
    return;
  }
  const bool keepers = fact->trust == Trust::keeper;
  protocol.tests_trust = fact->trust;
  protocol.tests_source = fact->source;
  // The round asks for mite checks of all but amphibians; a keeper's own list is the whole list.
  protocol.mites = !keepers && !is_amphibian(profile.group);
  for (std::string_view piece : split(std::get<std::string>(fact->value), ";")) {
    while (!piece.empty() && piece.front() == ' ') piece.remove_prefix(1);
    if (piece.empty() || piece == "none" || piece == "no") continue;
    if (mentions(piece, "mites")) {
      protocol.mites = true;
      continue;
    }
    const bool faecal = is_faecal(piece), cryptosporidium = is_cryptosporidium(piece);
    if (faecal) {
      const auto digits =
          std::min({piece.find_first_not_of("0123456789"), piece.size(), std::size_t{2}});
      protocol.faecal = digits > 0 ? std::stoi(std::string(piece.substr(0, digits)))
                                   : count_of("quarantine_faecal_negatives");
    }
    if (cryptosporidium) protocol.cryptosporidium = count_of("quarantine_cryptosporidium_tests");
    if (faecal || cryptosporidium) continue;
    for (std::string& name : sought(piece)) {
      protocol.named.emplace_back(std::move(name), std::string(piece));
    }
  }
}

void read_days(const species::Profile& profile, Protocol& protocol) {
  const bool amphibian = is_amphibian(profile.group);
  const auto longest_of = [](std::string_view rule) {
    return static_cast<int>(day_range(rule).high.days());
  };
  const species::Fact* fact = profile.find(Key::quarantine_length);
  if (fact != nullptr) {
    const double days = std::ceil(std::get<Duration>(fact->value).days());
    protocol.days = static_cast<int>(std::clamp(days, 0.0, kMostDays));
    protocol.days_trust = fact->trust;
    protocol.days_source = fact->source;
  } else {
    const auto& rule =
        species::care_rules().rule(amphibian ? "quarantine_amphibian" : "quarantine_reptile");
    protocol.days = longest_of(rule.name);
    protocol.days_trust = rule.trust;
    protocol.days_source = rule.source;
  }
  protocol.days_longest = protocol.days;
  if (protocol.days_trust == Trust::keeper) return;
  // Both rules are a range of days. Our reading: the long end until what they name is excluded.
  // Boas and pythons are the snakes whose profile asks for a test for the viruses of that rule.
  const auto asked = [&](std::initializer_list<std::string_view> names) {
    for (const auto& [name, piece] : protocol.named) {
      if (std::any_of(names.begin(), names.end(),
                      [&test = name](auto n) { return mentions(test, n); })) {
        protocol.longest_until_negative.push_back(name);
      }
    }
    return !protocol.longest_until_negative.empty();
  };
  if (profile.group == Group::snake && asked({"arenavirus", "nidovirus"})) {
    protocol.longest_rule = "quarantine_boa_python";
  } else if (amphibian && asked({"Bd", "Bsal", "ranavirus"})) {
    protocol.longest_rule = "quarantine_amphibian_infection";
  } else {
    return;
  }
  protocol.days_longest = std::max(protocol.days, longest_of(protocol.longest_rule));
}

}  // namespace

Protocol protocol_of(const species::Profile& profile) {
  Protocol protocol;
  read_tests(profile, protocol);
  read_days(profile, protocol);
  return protocol;
}

}  // namespace warmside::health
