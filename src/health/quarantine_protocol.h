#pragma once
// What a quarantine asks of one kind of animal, from its profile and the rules of care, before
// anybody looks at the notebook; and the few words by which tests are known. The inside of
// health/quarantine.cpp.

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/quantity.h"
#include "species/care_rules.h"
#include "species/profile.h"

namespace warmside::health {

struct Protocol {
  int days = 0;          // the least
  int days_longest = 0;  // as long as one of `longest_until_negative` is not negative
  std::vector<std::string> longest_until_negative;
  std::string longest_rule;  // of data/care_rules.csv
  Trust days_trust = Trust::common_practice;
  std::string days_source;
  int faecal = 0;           // negative samples
  int cryptosporidium = 0;  // negative tests
  /// Tests by name, one negative each: what it looks for, and the profile's words for it.
  std::vector<std::pair<std::string, std::string>> named;
  Trust tests_trust = Trust::common_practice;
  std::string tests_source = "common practice, no source";
  bool mites = false;  // whether mite-free checks are asked for
};

/// Days: quarantine_length of the profile, else quarantine_amphibian or quarantine_reptile, the
/// long end. A snake whose profile asks for an arenavirus or nidovirus test (boas and pythons)
/// stays for the long end of quarantine_boa_python until those are negative, an amphibian for that
/// of quarantine_amphibian_infection until Bd, Bsal and ranavirus are. The keeper's own length
/// holds as it is.
/// Tests: quarantine_tests of the profile, pieces between semicolons; else the general rules. The
/// keeper's own text is the whole list, "none" an empty one.
Protocol protocol_of(const species::Profile& profile);

/// Whether a word of the text begins with `key`, small and capital letters alike; a key of up to
/// three letters ("Bd") must be the whole word.
bool mentions(std::string_view text, std::string_view key);
bool is_faecal(std::string_view what);
bool is_cryptosporidium(std::string_view what);

int count_of(std::string_view rule);
Range<Duration> day_range(std::string_view rule);

}  // namespace warmside::health
