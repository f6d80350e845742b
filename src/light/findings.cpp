#include "light/findings.h"

#include <fmt/format.h>

#include <algorithm>

#include "light/enclosure_uv.h"
#include "room/look_up.h"
#include "species/care_rules.h"

namespace warmside::light {
namespace {

constexpr const char* kCaution =
    "UV hurts eyes and skin, yours too: never look into the lamp, and keep the distance its maker "
    "gives.";
constexpr const char* kUnplugged = "unplugged and cold";
constexpr const char* kPractice = "common practice, no source";

std::string index_words(double uvi) {
  return fmt::format("{:.2g}", uvi);
}
/// "UV index 2.3 (1.9 to 2.8)".
std::string band_words(const UvBand& band) {
  return fmt::format("UV index {} ({} to {})", index_words(band.best), index_words(band.low),
                     index_words(band.high));
}
std::string range_words(const Range<UvIndex>& range) {
  return fmt::format("{} to {}", index_words(range.low.index()), index_words(range.high.index()));
}

class Finder {
 public:
  explicit Finder(const room::Day& day) : day_(day) {}

  std::vector<Finding> find() {
    for (const room::Enclosure& enclosure : day_.room->enclosures) {
      if (room::in_use(enclosure, day_.date)) look_at(enclosure);
    }
    // A lamp that hangs nowhere, or over an enclosure that is no longer used, still fades.
    for (const room::Lamp& lamp : day_.room->lamps) {
      const room::Enclosure* home = room::find(day_.room->enclosures, lamp.enclosure);
      if (!lamp.uvb || !room::in_use(lamp, day_.date)) continue;
      if (home == nullptr || !room::in_use(*home, day_.date)) faded(lamp, lamp_course(day_, lamp));
    }
    return std::move(found_);
  }

 private:
  Finding& add(When when, std::string kind, std::string subject, std::string headline) {
    Finding finding;
    finding.when = when;
    finding.subject_kind = std::move(kind);
    finding.subject = std::move(subject);
    finding.headline = std::move(headline);
    finding.source = kPractice;
    finding.module = "light";
    found_.push_back(std::move(finding));
    return found_.back();
  }
  Finding& about(const room::Lamp& lamp, When when, std::string headline) {
    return add(when, "lamp", lamp.id.text(), std::move(headline));
  }

  void look_at(const room::Enclosure& enclosure) {
    const EnclosureUv uv = enclosure_uv(day_, enclosure);
    bool any_faded = false;
    for (const LampUv& lamp : uv.lamps) {
      any_faded = faded(*lamp.lamp, lamp.course) || any_faded;
      if (!uv.wanted.empty()) look_at(lamp);
    }
    if (uv.wanted.empty()) return;
    if (uv.lamps.empty()) return without_lamp(uv);
    too_much(uv);
    if (!any_faded) too_little(uv);
  }

  /// Whether its latest reading is under the share at which it is replaced.
  bool faded(const room::Lamp& lamp, const LampCourse& course) {
    const auto& rule = species::care_rules().rule("uv_low_share");
    const double low_share = species::care_rules().value<Percentage>(rule.name).share();
    const LampReading *first = course.first(), *latest = course.latest();
    // 5.81 of 8.3 are 70 %, though in binary a little less.
    constexpr double kRounding = 1e-9;
    if (first == latest || !(latest->there < first->there * (low_share - kRounding))) return false;
    Finding& finding = about(lamp, When::this_week,
                             fmt::format("The UVB lamp {} gives {:.0f} % of what it gave at first",
                                         lamp.id.text(), latest->there / first->there * 100));
    const UnitSystem units = day_.room->info.units;
    const auto read = [&](const LampReading& r) {
      return fmt::format("{}{} on {}", for_people(UvIndex::index(r.uvi), units),
                         r.distance ? " at " + for_people(*r.distance, units) : "", to_text(r.on));
    };
    finding.evidence = fmt::format("{}, {}; replace below {}.", read(*latest), read(*first),
                                   for_people(Percentage::share(low_share), units));
    if (course.ageing && course.ageing->readings() >= 3) {
      const UvBand share = course.ageing->share(ageing_day(day_.date), course.ageing->first_day());
      finding.evidence += fmt::format(
          " All {} readings together: {:.0f} % today ({:.0f} to {:.0f} %).",
          course.ageing->readings(), 100 * share.best, 100 * share.low, 100 * share.high);
    }
    if (course.new_since && lamp.installed == course.new_since) {
      finding.evidence += " Installed " + to_text(*lamp.installed) + ".";
    }
    finding.advice = fmt::format(
        "{}Read again at the same place after an hour of burning. If it stands, replace the lamp, "
        "{}. Never look into a UV lamp, and keep the distance its maker gives.",
        course.latest_is_odd() ? "The latest reading lies off the line of the others. " : "",
        kUnplugged);
    finding.source = rule.source;
    return true;
  }

  void look_at(const LampUv& uv) {
    const room::Lamp& lamp = *uv.lamp;
    const UnitSystem units = day_.room->info.units;
    if (uv.screen == room::Screen::closed && !uv.by_reading) {
      Finding& finding =
          about(lamp, When::this_week,
                fmt::format("The UVB lamp {} shines on a closed lid", lamp.id.text()));
      finding.evidence =
          "Ordinary glass and plastic let next to no UVB through (remembered; counted as none), "
          "whatever the lamp gives.";
      finding.advice = fmt::format(
          "Read below the lid with a UV meter if you can. Else hang it inside, guarded, or over "
          "mesh, "
          "{}; one that is made for use behind such a lid says so on its label. {}",
          kUnplugged, kCaution);
    }
    if (lamp.uv_table && lamp.distance && *lamp.distance < lamp.uv_table->rows.front().distance) {
      Finding& finding =
          about(lamp, When::this_week,
                fmt::format("The UVB lamp {} hangs nearer than its data sheet speaks of",
                            lamp.id.text()));
      finding.evidence = fmt::format("{} to the basking place; the sheet begins at {}, with {}.",
                                     for_people(*lamp.distance, units),
                                     for_people(lamp.uv_table->rows.front().distance, units),
                                     for_people(lamp.uv_table->rows.front().uvi, units));
      finding.advice =
          fmt::format("Hang it higher, or lower the basking place, {}, and read again. {}",
                      kUnplugged, kCaution);
    }
    if (!uv.replacement.by_readings && uv.replacement.due && *uv.replacement.due < day_.date) {
      Finding& finding =
          about(lamp, When::this_week,
                fmt::format("The UVB lamp {} is past its usual life", lamp.id.text()));
      finding.evidence = fmt::format(
          "In use since {}; due {}: {}.",
          uv.course.new_since ? to_text(*uv.course.new_since) : "before its first reading",
          to_text(*uv.replacement.due), uv.replacement.why);
      finding.advice = fmt::format(
          "It gives light long after its UVB is gone. Borrow a UV meter and read it, or replace "
          "it, "
          "{}. {}",
          kUnplugged, kCaution);
    }
    const bool meter = std::any_of(
        day_.room->instruments.begin(), day_.room->instruments.end(), [&](const auto& i) {
          return i.kind == room::InstrumentKind::uv_meter && room::in_use(i, day_.date);
        });
    if (uv.course.readings.empty() && !lamp.uv_table && !meter) {
      Finding& finding =
          about(lamp, When::good_to_know,
                fmt::format("Nobody knows what the UVB lamp {} gives", lamp.id.text()));
      finding.evidence =
          "It has no reading and no data sheet in the room file, and the room has no "
          "UV meter.";
      finding.advice = fmt::format(
          "Borrow a UV index meter for one reading at the basking place, after an hour of burning, "
          "and jot it; or write the table of its data sheet into the room file (uv_table). {}",
          kCaution);
    }
  }

  /// Who wants what, for evidence: "Ochre (zone 2-3) 1.1 to 7.4 at the basking place".
  std::string wishes(const std::vector<const WantedUv*>& list) const {
    std::string words;
    for (const WantedUv* wanted : list) {
      words +=
          fmt::format("{}{}{} {}", words.empty() ? "" : ", ", room::called(*wanted->animal->animal),
                      wanted->zone.empty() ? "" : fmt::format(" (zone {})", wanted->zone),
                      range_words(*wanted->strongest));
    }
    return words;
  }
  static std::string doubts(const std::vector<const WantedUv*>& list) {
    std::string words;
    for (const WantedUv* wanted : list) {
      if (wanted->doubts.empty() || words.find(wanted->doubts) != std::string::npos) continue;
      words += fmt::format(" {}: {}.", wanted->animal->profile.common_name, wanted->doubts);
    }
    return words;
  }
  static std::string source_of(const std::vector<const WantedUv*>& list) {
    return list.empty() || list.front()->source.empty() ? kPractice : list.front()->source;
  }
  std::string where(const EnclosureUv& uv) const {
    return uv.under->distance
               ? fmt::format("{} under {}", for_people(*uv.under->distance, day_.room->info.units),
                             uv.under->lamp->id.text())
               : "under " + uv.under->lamp->id.text();
  }

  void too_much(const EnclosureUv& uv) {
    if (!uv.basking) return;
    const UvBand& there = *uv.basking;
    std::vector<const WantedUv*> over;
    bool surely = false;
    for (const WantedUv& wanted : uv.wanted) {
      if (!wanted.strongest || !(there.best > wanted.strongest->high.index())) continue;
      over.push_back(&wanted);
      surely = surely || there.low > wanted.strongest->high.index();
    }
    const bool for_any = there.best > kTooMuchForAny;
    if (over.empty() && !for_any) return;
    Finding& finding =
        add(surely || for_any ? When::today : When::this_week, "enclosure", uv.enclosure->id.text(),
            for_any && over.empty()
                ? fmt::format("The UV in {} is stronger than any animal should have",
                              room::called(*uv.enclosure))
                : fmt::format("The UV at the basking place in {} is stronger than wanted",
                              room::called(*uv.enclosure)));
    finding.evidence = fmt::format(
        "{} {}, resting on {}.{}{}", band_words(there), where(uv), uv.under->rests_on,
        over.empty() ? "" : fmt::format(" Wanted at most, at the basking place: {}.", wishes(over)),
        for_any ? fmt::format(" Over {:.0f} it is too much for any.", kTooMuchForAny) : "");
    finding.evidence += doubts(over);
    finding.advice = fmt::format(
        "Give shade and raise the lamp or lower the basking place, {}, then read again. An animal "
        "that "
        "squints or keeps its eyes closed is for a veterinarian with reptile or amphibian "
        "experience. {}",
        kUnplugged, kCaution);
    finding.source = over.empty() ? kPractice : source_of(over);
  }

  void too_little(const EnclosureUv& uv) {
    if (!uv.basking) return;
    std::vector<const WantedUv*> under;
    for (const WantedUv& wanted : uv.wanted) {
      if (wanted.surely && wanted.strongest && uv.basking->best < wanted.strongest->low.index()) {
        under.push_back(&wanted);
      }
    }
    // A lamp on a closed lid has its own finding.
    if (under.empty() || (uv.under->screen == room::Screen::closed && !uv.under->by_reading))
      return;
    Finding& finding = add(uv.under->by_reading ? When::this_week : When::good_to_know, "enclosure",
                           uv.enclosure->id.text(),
                           fmt::format("The UV at the basking place in {} is weaker than wanted",
                                       room::called(*uv.enclosure)));
    finding.evidence = fmt::format("{} {}, resting on {}. Wanted at the basking place: {}.{}",
                                   band_words(*uv.basking), where(uv), uv.under->rests_on,
                                   wishes(under), doubts(under));
    finding.advice = fmt::format(
        "Read again after an hour of burning. If it stands, clean the mesh, raise the basking "
        "place, "
        "or hang a stronger lamp, {}; never nearer than its maker allows. {}",
        kUnplugged, kCaution);
    finding.source = source_of(under);
  }

  void without_lamp(const EnclosureUv& uv) {
    // Zone 1 begins at nothing (Ferguson et al. 2010); from zone 2 on the average does not.
    std::vector<const WantedUv*> without;
    bool all_by_night = true;
    for (const WantedUv& wanted : uv.wanted) {
      if (!wanted.gradient || !(wanted.gradient->low > UvIndex()) || !wanted.strongest) continue;
      without.push_back(&wanted);
      const std::string& activity = wanted.animal->profile.activity;
      all_by_night = all_by_night && (activity == "nocturnal" || activity == "crepuscular");
    }
    if (without.empty()) return;
    Finding& finding = add(When::good_to_know, "enclosure", uv.enclosure->id.text(),
                           fmt::format("{} has no UVB lamp", room::called(*uv.enclosure)));
    finding.evidence = fmt::format("By their zones, at the basking place: {}.{}", wishes(without),
                                   doubts(without));
    finding.advice = fmt::format(
        "{} How much they need where their food holds vitamin D3 is not settled; ask a "
        "veterinarian "
        "with reptile or amphibian experience. With a lamp always leave a way into full shade. {}",
        all_by_night ? "They are not out at midday: the usual way is the shade method, a weak lamp "
                       "over part of the enclosure."
                     : "Think of a UVB lamp over the basking place.",
        kCaution);
    finding.source = source_of(without);
  }

  const room::Day& day_;
  std::vector<Finding> found_;
};

}  // namespace

std::vector<Finding> findings(const room::Day& day) {
  return Finder(day).find();
}

}  // namespace warmside::light
