// Writes each case of climate_cases.h into a folder: NAME.cir for the circuit simulator, NAME.csv
// with our temperatures, degC, and vapour, g/m3, and NAME.sums with our duty, energy and
// switchings. For spice_check.py.
//
//     write_climate_cases FOLDER

#include <fmt/format.h>

#include <cstdio>
#include <fstream>

#include "climate/netlist.h"
#include "reference/climate_cases.h"

namespace warmside::climate {
namespace {

void write(const ClimateCase& one, const std::string& folder) {
  NetlistOptions options;
  options.start_second_of_day = one.start_second_of_day;
  options.output_file = one.name + ".txt";
  // ngspice moves a switch on the voltage it predicts, a little before the end of the band; the
  // less the shorter its steps are (spice_check.py).
  options.largest_step_s = one.circuit_step_s;
  options.truncation_factor = 7;
  // Where contacts switch, the ends of ranges are compared; a heater's own node turns sharply
  // there.
  options.print_every_s = one.switched ? 5 : 60;
  std::ofstream(folder + "/" + one.name + ".cir") << spice_netlist(one.network, options);

  const Course course = solve(one, one.fine_step_s, options.print_every_s);
  std::ofstream table(folder + "/" + one.name + ".csv");
  for (std::size_t k = 0; k < course.time_s.size(); ++k) {
    table << fmt::format("{}", course.time_s[k]);
    for (int i = 0; i < course.width; ++i) {
      table << fmt::format(",{:.9f}",
                           course.temperature_k[k * static_cast<std::size_t>(course.width) +
                                                static_cast<std::size_t>(i)] -
                               273.15);
    }
    const std::size_t volumes = one.network.air.size();
    for (std::size_t v = 0; v < volumes; ++v) {
      table << fmt::format(",{:.9f}", 1000 * course.vapour_kg_per_m3[k * volumes + v]);
    }
    table << '\n';
  }
  std::ofstream sums(folder + "/" + one.name + ".sums");
  sums << "heater,duty,energy_wh,switches,power_w,contact\n";
  for (std::size_t h = 0; h < course.duty.size(); ++h) {
    const Heater& heater = one.network.heaters[h];
    sums << fmt::format("{},{},{},{},{},{}\n", heater.name, course.duty[h],
                        course.energy_j[h] / 3600, course.switches[h], heater.power_w,
                        heater.control == ControlKind::on_off ? 1 : 0);
  }
}

}  // namespace
}  // namespace warmside::climate

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fputs("write_climate_cases FOLDER\n", stderr);
    return 2;
  }
  for (const auto& one : warmside::climate::climate_cases()) {
    warmside::climate::write(one, argv[1]);
  }
  return 0;
}
