#pragma once
// Ten enclosures as keepers have them, varied in make, heat, moisture and room: the cases over
// which enclosure_test.cpp runs its identities. Plain case files, read as any other.

#include <string_view>
#include <vector>

namespace warmside::climate {

struct NamedCase {
  const char* name;
  std::string_view text;
};

inline const std::vector<NamedCase>& enclosure_cases() {
  static const std::vector<NamedCase> kCases{
      {"glass tank with mat", R"(
[enclosure]
length = "60cm"
width = "30cm"
height = "30cm"
[faces]
front = "glass 4mm"
back = "glass 4mm"
left = "glass 4mm"
right = "glass 4mm"
top = "mesh 1mm"
bottom = "glass 6mm"
[substrate]
kind = "coco fibre"
depth = "2cm"
[openings]
lid_covered = "60%"
[room]
temperature = "21C"
[[probe]]
name = "floor"
kind = "surface"
x = "14cm"
y = "15cm"
z = "0cm"
[[thermostat]]
name = "control"
probe = "floor"
day = "32C"
[[heater]]
name = "mat"
kind = "mat under"
power = "18W"
x = "0cm..28cm"
y = "1cm..29cm"
thermostat = "control"
)"},
      {"pvc with radiant panel", R"(
[enclosure]
length = "90cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 4mm"
back = "pvc foam 10mm"
left = "pvc foam 10mm"
right = "pvc foam 10mm"
top = "pvc foam 10mm"
bottom = "pvc foam 10mm"
[substrate]
kind = "aspen shavings"
depth = "4cm"
[openings]
vents_low = "30cm2"
vents_high = "30cm2"
vents_apart = "35cm"
[room]
temperature = "22C"
[[probe]]
name = "warm side"
kind = "bare"
x = "20cm"
y = "20cm"
z = "5cm"
[[thermostat]]
name = "control"
kind = "pulse proportional"
probe = "warm side"
day = "31C"
[[heater]]
name = "panel"
kind = "panel"
power = "80W"
x = "5cm..40cm"
y = "5cm..40cm"
thermostat = "control"
)"},
      {"mesh top with basking lamp", R"(
[enclosure]
length = "75cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 5mm"
back = "glass 5mm"
left = "glass 5mm"
right = "glass 5mm"
top = "mesh 1mm"
bottom = "glass 6mm"
[substrate]
kind = "sand"
depth = "5cm"
[room]
temperature = "23C"
[[heater]]
name = "lamp"
kind = "lamp"
power = "75W"
x = "18cm"
y = "22cm"
z = "45cm"
on = "08:00"
off = "20:00"
)"},
      {"frogs with mist and dish", R"(
[enclosure]
length = "45cm"
width = "45cm"
height = "60cm"
[faces]
front = "glass 4mm"
back = "cork 20mm + glass 4mm"
left = "glass 4mm"
right = "glass 4mm"
top = "mesh 1mm"
bottom = "glass 6mm"
[substrate]
kind = "soil mix moist"
depth = "6cm"
[openings]
lid_covered = "75%"
vents_low = "30cm2"
[room]
temperature = "21C"
[dish]
x = "35cm"
y = "12cm"
area = "120cm2"
[[heater]]
name = "tube"
kind = "tube"
power = "14W"
x = "5cm..40cm"
y = "22cm"
z = "58cm"
[[misting]]
time = "08:30"
water = "60mL"
[[misting]]
time = "18:00"
water = "60mL"
)"},
      {"rack tub with cable", R"(
[enclosure]
length = "70cm"
width = "40cm"
height = "14cm"
[faces]
front = "polypropylene 3mm"
back = "polypropylene 3mm"
left = "polypropylene 3mm"
right = "polypropylene 3mm"
top = "polypropylene 3mm"
bottom = "polypropylene 3mm"
[substrate]
kind = "paper"
depth = "5mm"
[room]
temperature = "22C"
[[probe]]
name = "back"
kind = "surface"
x = "10cm"
y = "20cm"
z = "0cm"
[[thermostat]]
name = "control"
probe = "back"
day = "31C"
[[heater]]
name = "cable"
kind = "cable"
power = "25W"
x = "2cm..20cm"
y = "2cm..38cm"
thermostat = "control"
[[neighbour]]
face = "top"
insulated = true
[[neighbour]]
face = "bottom"
insulated = true
[[neighbour]]
face = "left"
temperature = "27C"
)"},
      {"wood with ceramic emitter", R"(
[enclosure]
length = "80cm"
width = "50cm"
height = "50cm"
[faces]
front = "glass 4mm"
back = "plywood 15mm"
left = "plywood 15mm"
right = "plywood 15mm"
top = "plywood 15mm"
bottom = "plywood 15mm"
[substrate]
kind = "bark chips"
depth = "5cm"
[openings]
vents_low = "40cm2"
vents_high = "40cm2"
vents_apart = "40cm"
[room]
temperature = "20C"
[[heater]]
name = "emitter"
kind = "ceramic emitter"
power = "60W"
x = "20cm"
y = "25cm"
z = "42cm"
)"},
      {"lamp and mat", R"(
[enclosure]
length = "60cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 4mm"
back = "osb 12mm"
left = "osb 12mm"
right = "osb 12mm"
top = "osb 12mm"
bottom = "osb 12mm"
[substrate]
kind = "clay soil"
depth = "4cm"
[openings]
vents_low = "50cm2"
vents_high = "50cm2"
vents_apart = "35cm"
[room]
temperature = "21C"
[[heater]]
name = "lamp"
kind = "lamp"
power = "50W"
x = "15cm"
y = "22cm"
z = "40cm"
[[heater]]
name = "mat"
kind = "mat inside"
power = "12W"
x = "2cm..22cm"
y = "5cm..40cm"
)"},
      {"rock under a lamp", R"(
[enclosure]
length = "60cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 4mm"
back = "xps 20mm + pvc 3mm"
left = "glass 4mm"
right = "glass 4mm"
top = "mesh 1mm"
bottom = "pvc 6mm"
[substrate]
kind = "sand"
depth = "4cm"
[openings]
lid_covered = "30%"
[room]
temperature = "22C"
[[body]]
name = "rock"
kind = "rock"
x = "6cm..24cm"
y = "12cm..33cm"
height = "6cm"
[[body]]
name = "hide"
kind = "hide"
x = "40cm..56cm"
y = "10cm..24cm"
height = "8cm"
material = "wood"
[[heater]]
name = "spot"
kind = "lamp"
power = "50W"
x = "15cm"
y = "22cm"
z = "40cm"
beam_deg = 30.0
)"},
      {"cold room", R"(
[enclosure]
length = "60cm"
width = "40cm"
height = "40cm"
[faces]
front = "glass 4mm"
back = "cork 20mm + pvc 10mm"
left = "pvc 10mm"
right = "pvc 10mm"
top = "pvc 10mm"
bottom = "pvc 10mm"
[substrate]
kind = "soil mix moist"
depth = "5cm"
[room]
temperature = "12C"
humidity = "70%"
[[probe]]
name = "warm side"
x = "10cm"
y = "20cm"
z = "5cm"
[[thermostat]]
name = "control"
probe = "warm side"
day = "26C"
[[heater]]
name = "mat"
kind = "mat under"
power = "45W"
x = "0cm..30cm"
y = "0cm..40cm"
thermostat = "control"
[[neighbour]]
face = "bottom"
temperature = "10C"
)"},
      {"hot room", R"(
[enclosure]
length = "60cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 4mm"
back = "glass 4mm"
left = "glass 4mm"
right = "glass 4mm"
top = "mesh 1mm"
bottom = "glass 6mm"
[substrate]
kind = "coco fibre moist"
depth = "5cm"
[openings]
lid_covered = "50%"
[room]
temperature = "33C"
humidity = "35%"
[dish]
x = "45cm"
y = "30cm"
area = "200cm2"
[[neighbour]]
face = "bottom"
temperature = "27C"
)"},
  };
  return kCases;
}

}  // namespace warmside::climate
