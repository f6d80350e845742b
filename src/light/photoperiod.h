#pragma once
// How long an animal's light should last on a date: for judging timers (timers.h) and for setting
// them (timer_plan.h). A default for a keeper to correct, as everything in a profile; it says
// nothing of brightness or UV.
//
// Two opinions stand side by side. The first, and the one that is wanted, is the length of the days
// at the animal's home: the sun at the profile's native_latitude. The second is the profile's
// table, photoperiod_winter to photoperiod_summer, run between the solstices as the sun's own
// declination runs. Both follow the season of the room: an animal from the south in a northern room
// has its long days in the northern summer, as far from the equator as its home is. What the keeper
// has put in place of a profile's value goes first and stands alone: hours before a latitude.
//
// The two seldom agree to the minute and neither is a law, so a timer is judged by the whole band
// from the shorter to the longer, and only when it is farther from it than the rule
// light_tolerance.

#include <string>
#include <vector>

#include "core/time.h"
#include "room/day.h"

namespace warmside::light {

struct LightOpinion {
  Duration length;
  std::string words;  // "11 h 10 min by the profile, ... (common practice)"
};

struct WantedLight {
  std::vector<LightOpinion> opinions;  // what is wanted first; empty: unknown
  std::string unknown;                 // why nothing is known; else empty

  bool known() const { return !opinions.empty(); }
  /// Only where it is known.
  Duration wanted() const { return opinions.front().length; }
  Range<Duration> band() const;
};

/// room_latitude_deg: north positive; the equator counts as north.
WantedLight wanted_light(const species::Profile& profile, double room_latitude_deg, Date date);

/// What the animals want that share an enclosure. Those in brumation are left out: their light is
/// not judged.
struct SharedLight {
  struct Wish {
    const room::AnimalDay* animal = nullptr;
    WantedLight light;
  };
  std::vector<Wish> wishes;  // of the animals that are awake and whose want is known
  std::string unknown;       // why there are no wishes; else empty

  // Of wishes that are there:
  bool agree = false;        // whether a length within the tolerance of every band exists
  Range<Duration> band;      // what all want; where the bands do not meet, the gap between them
  Range<Duration> accepted;  // the band and the tolerance on both sides, within every animal's
  Duration wanted;           // the mean of what each wants, kept within `accepted`
};

/// The animals of the enclosure on `day`, the season of `date`. Unknown without the latitude of the
/// room.
SharedLight shared_light(const room::Day& day, const room::EnclosureId& enclosure, Date date);

/// Rounded to 5 minutes: "11 h 10 min". Finer would claim more than anyone knows.
std::string light_words(Duration length);
/// "10 h 20 min to 11 h 10 min", or one length where both ends read the same.
std::string light_words(const Range<Duration>& band);

}  // namespace warmside::light
