#include "hygiene/contacts.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>

namespace warmside::hygiene {
namespace {

using room::Entry;
using room::EntryKind;
using room::SubjectKind;
using Kind = CarrierName::Kind;

std::optional<CarrierName> carrier_of(const room::Subject& subject) {
  switch (subject.kind) {
    case SubjectKind::animal:
      return CarrierName{Kind::animal, subject.id};
    case SubjectKind::enclosure:
      return CarrierName{Kind::enclosure, subject.id};
    case SubjectKind::tool:
      return CarrierName{Kind::tool, subject.id};
    default:
      return std::nullopt;
  }
}

class Reader {
 public:
  Reader(const ContactRoom& room, const Zone& zone) : room_(room), zone_(zone) {}

  Contacts read(std::span<const Entry> entries) {
    std::vector<const Entry*> order;
    for (const Entry& entry : entries) order.push_back(&entry);
    std::sort(order.begin(), order.end(), [](const Entry* a, const Entry* b) {
      return std::tie(a->at, a->id) < std::tie(b->at, b->id);
    });
    now_ = order.empty() ? 0 : order.front()->at.unix_ms();
    share_air();
    for (const auto& [animal, enclosure] : room_.first_home) settle(animal, enclosure);
    for (const Entry* entry : order) {
      let_leave(entry->at.unix_ms());
      now_ = entry->at.unix_ms();
      take(*entry);
    }
    tell_of_unused_tools();
    return std::move(found_);
  }

 private:
  void take(const Entry& entry) {
    switch (entry.kind) {
      case EntryKind::moved:
        if (entry.target) settle(entry.subject.id, entry.target->id);
        break;
      case EntryKind::used:
        use(entry);
        break;
      case EntryKind::leftovers:
        if (entry.target) {
          put(ContactEvent::Kind::give, carrier({Kind::animal, entry.subject.id}),
              carrier({Kind::animal, entry.target->id}), Way::leftovers);
        }
        break;
      case EntryKind::disinfected:
        disinfect(entry);
        break;
      default:
        break;
    }
    if (entry.by.empty() || !is_handling(entry.kind)) return;
    if (const auto touched = carrier_of(entry.subject)) {
      Hands& hands = hands_[entry.by.text()];
      if (hands.name.empty() || now_ - hands.last_ms > kHandsRest_ms) {
        hands.name = fmt::format("{} from {}", entry.by.text(), zone_.wall_text(entry.at));
      }
      hands.last_ms = now_;
      put(ContactEvent::Kind::touch, carrier({Kind::hands, hands.name}), carrier(*touched),
          Way::hands);
    }
  }

  /// Those that left the room before a moment are with nobody from then on.
  void let_leave(std::int64_t before_ms) {
    std::vector<std::pair<std::int64_t, std::string>> leaving;
    for (const auto& [animal, at] : room_.left) {
      if (at.unix_ms() <= before_ms && !gone_.contains(animal)) {
        leaving.emplace_back(at.unix_ms(), animal);
      }
    }
    std::sort(leaving.begin(), leaving.end());
    for (const auto& [at_ms, animal] : leaving) {
      now_ = std::max(now_, at_ms);
      settle(animal, "");
      gone_.insert(animal);
    }
  }

  /// A tool that is disinfected and never used is a slip of the pen: another one stays soiled.
  void tell_of_unused_tools() {
    for (const Entry* entry : disinfected_tools_) {
      const std::string& id = entry->subject.id;
      if (used_tools_.contains(id) || room_.tools.contains(id)) continue;
      tell(*entry, fmt::format("the disinfection of {} counts for nothing: no such tool is used "
                               "anywhere",
                               id));
    }
    std::stable_sort(found_.unknown.begin(), found_.unknown.end(),
                     [](const UnknownContact& a, const UnknownContact& b) { return a.at < b.at; });
  }

  void use(const Entry& entry) {
    used_tools_.insert(entry.subject.id);
    const auto touched = entry.target ? carrier_of(*entry.target) : std::nullopt;
    if (!touched) return;
    const auto tool = room_.tools.find(entry.subject.id);
    if (tool == room_.tools.end() && !room_.tools.empty()) {
      tell(entry, fmt::format("the tool {} is not in the room file", entry.subject.id));
    }
    put(ContactEvent::Kind::touch, carrier({Kind::tool, entry.subject.id}), carrier(*touched),
        tool == room_.tools.end() ? Way::tool : tool->second);
  }

  void disinfect(const Entry& entry) {
    const auto cleaned = carrier_of(entry.subject);
    if (!cleaned) return;
    const Coverage coverage = coverage_of(entry.item, entry.count);
    if (!coverage.unknown.empty()) {
      tell(entry, fmt::format("the disinfection of {} counts for nothing: {}", entry.subject.id,
                              coverage.unknown));
    } else if (!coverage.covers.empty()) {
      ContactEvent cut{now_, carrier(*cleaned), 0, ContactEvent::Kind::cut, 1, 0, 0};
      for (const Organism organism : coverage.covers) cut.cuts |= bit_of(organism);
      found_.events.push_back(cut);
      if (cleaned->kind == Kind::tool) disinfected_tools_.push_back(&entry);
    }
  }

  void settle(const std::string& animal, const std::string& enclosure) {
    const Carrier who = carrier({Kind::animal, animal});
    if (const auto home = homes_.find(who); home != homes_.end()) {
      ContactEvent parting = home->second;
      parting.at_ms = now_;
      parting.kind = ContactEvent::Kind::apart;
      found_.events.push_back(parting);
      homes_.erase(home);
    }
    if (enclosure.empty()) return;
    homes_[who] = put(ContactEvent::Kind::together, who, carrier({Kind::enclosure, enclosure}),
                      Way::enclosure);
  }

  void share_air() {
    std::map<std::string, std::vector<Carrier>> racks;
    for (const auto& [enclosure, rack] : room_.rack) {
      racks[rack].push_back(carrier({Kind::enclosure, enclosure}));
    }
    for (const auto& [rack, shelf] : racks) {
      for (std::size_t i = 0; i < shelf.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
          put(ContactEvent::Kind::together, shelf[j], shelf[i], Way::air);
        }
      }
    }
  }

  ContactEvent put(ContactEvent::Kind kind, Carrier a, Carrier b, Way way) {
    const ContactEvent event{now_,
                             a,
                             b,
                             kind,
                             static_cast<float>(weight_of(way)),
                             static_cast<std::uint32_t>(found_.ways.size())};
    found_.events.push_back(event);
    found_.ways.push_back(way);
    return event;
  }

  void tell(const Entry& entry, std::string what) {
    found_.unknown.push_back({entry.at, std::move(what)});
  }

  Carrier carrier(const CarrierName& name) {
    const auto [at, fresh] = index_.emplace(name, static_cast<Carrier>(found_.carriers.size()));
    if (fresh) found_.carriers.push_back(name);
    return at->second;
  }

  struct Hands {
    std::string name;
    std::int64_t last_ms = 0;
  };

  const ContactRoom& room_;
  const Zone& zone_;
  std::int64_t now_ = 0;
  Contacts found_;
  std::map<CarrierName, Carrier> index_;
  std::map<Carrier, ContactEvent> homes_;  // where each animal lives
  std::map<std::string, Hands> hands_;     // by keeper
  std::set<std::string> gone_;
  std::set<std::string> used_tools_;
  std::vector<const Entry*> disinfected_tools_;  // by means that are known
};

}  // namespace

bool is_handling(EntryKind kind) {
  switch (kind) {
    case EntryKind::weighed:
    case EntryKind::measured:
    case EntryKind::checked:
    case EntryKind::moved:
    case EntryKind::watered:
    case EntryKind::spot_cleaned:
    case EntryKind::full_cleaned:
      return true;
    default:
      return false;
  }
}

Way way_of(room::ToolKind kind) {
  switch (kind) {
    case room::ToolKind::tub:
      return Way::tub;
    case room::ToolKind::bowl:
      return Way::water;
    default:
      return Way::tool;
  }
}

double weight_of(Way way) {
  switch (way) {
    case Way::enclosure:
      return 0.9;
    case Way::tub:
    case Way::water:
      return 0.5;
    case Way::leftovers:
      return 0.4;
    case Way::tool:
      return 0.25;
    case Way::hands:
      return 0.1;
    case Way::air:
      break;
  }
  return 0.02;
}

std::optional<Carrier> Contacts::find(const CarrierName& name) const {
  const auto at = std::find(carriers.begin(), carriers.end(), name);
  if (at == carriers.end()) return std::nullopt;
  return static_cast<Carrier>(at - carriers.begin());
}

ContactRoom contact_room(const room::Room& room, const Zone& zone) {
  ContactRoom found;
  for (const room::Animal& animal : room.animals) {
    if (!animal.enclosure.empty()) found.first_home[animal.id.text()] = animal.enclosure.text();
    if (animal.left) found.left[animal.id.text()] = zone.start_of(*animal.left);
  }
  for (const room::Tool& tool : room.tools) found.tools[tool.id.text()] = way_of(tool.kind);
  for (const room::Enclosure& enclosure : room.enclosures) {
    if (!enclosure.rack.empty()) found.rack[enclosure.id.text()] = enclosure.rack;
  }
  return found;
}

Contacts contacts_of(std::span<const Entry> entries, const ContactRoom& room, const Zone& zone) {
  return Reader(room, zone).read(entries);
}

}  // namespace warmside::hygiene
