#pragma once
// The inside of the solvers: a network compiled to its right-hand side and the slopes of it. Only
// solver.cpp, transient.cpp and room_run.cpp read this.
//
// The state y: node temperatures, K; then sensors that lag, K; then the vapour of the air volumes,
// kg/m3; then the films on wet surfaces, kg; then mean duties (mean_duty.h). The outside b:
// boundary temperatures, K, then their vapour, kg/m3, then the heaters' set points, K. Rates are in
// what the state holds times its capacity: W, K/s, kg/s, kg/s, 1/s. Tallies count what crosses the
// edge of the network, by the same terms, so that balances close exactly.

#include <Eigen/Dense>
#include <algorithm>
#include <vector>

#include "climate/mean_duty.h"
#include "climate/network.h"

namespace warmside::climate {

/// Which part of its law a proportional thermostat goes by. The steady state is sought with each on
/// one piece of it, since Newton's method may leap to and fro across the corners for ever.
enum class Piece { all, line, full, none };

class Equations {
 public:
  using Vector = Eigen::VectorXd;

  struct Parts {
    // On/off thermostats by their mean duty (mean_duty.h); without lags as proportional ones.
    bool mean_duty = false;
    bool lags = true;   // sensors that lag are states; else they are where they would end
    bool films = true;  // films are states; else dew runs off at once
  };
  Equations(const Network& network, Parts parts);

  const Network& net() const { return net_; }
  int size() const { return size_; }
  int outside_size() const { return 2 * boundaries_ + heaters_; }
  /// Where a boundary's vapour and a heater's set point stand in the outside.
  int outside_vapour(int boundary) const { return boundaries_ + boundary; }
  int outside_set_point(int heater) const { return 2 * boundaries_ + heater; }
  /// Rows of the tallies.
  int heat_to(int boundary) const { return boundary; }
  int vapour_to(int boundary) const { return boundaries_ + boundary; }
  int evaporated() const { return 2 * boundaries_; }   // from all liquid, less dew, kg/s
  int drawn() const { return 2 * boundaries_ + 1; }    // of it from beneath, as substrate, kg/s
  int run_off() const { return 2 * boundaries_ + 2; }  // dew that leaves as water, kg/s
  int given_by(int heater) const { return 2 * boundaries_ + 3 + heater; }  // W
  int tally_size() const { return 2 * boundaries_ + 3 + heaters_; }

  Vector start() const;
  Vector capacity() const;
  /// Where a surface's film stands in the state; -1: it has none. Surfaces of one node share one.
  int film_state(int wet) const { return film_state_[at(wet)]; }
  const std::vector<int>& films() const { return films_; }
  /// The share of its surfaces' evaporation that a film of this mass lets pass.
  double wetted(std::size_t film, double kg) const {
    const double wet = std::max(kg, 0.0);
    return wet / (wet + kHalfFilm_kg_per_m2 * film_area_[film]);
  }
  int vapour_state(int volume) const { return first_vapour_ + volume; }

  /// Set before rates() and slopes(); set_clock sets all from a time.
  struct Clock {
    Vector outside;
    std::vector<char> lit;  // per heater: its timer lets it run
  };
  Clock clock;
  void set_clock(double time_s, double second_of_day);
  double wanted_k(int heater) const { return clock.outside[outside_set_point(heater)]; }
  /// Contacts of real on/off thermostats, 0 or 1.
  std::vector<char> contact;
  std::vector<Piece> piece;
  bool stuck_on = false;

  /// Whether the power of a heater depends on its sensor in degrees, not just on or off.
  bool graded(int heater) const { return graded_[at(heater)] != 0; }
  /// Where a graded heater's law stands, from its line drawn on beyond the corners.
  Piece piece_by_sensor(int heater, const Vector& y) const;
  double duty(int heater, const Vector& y) const { return duty_of(heater, y).value; }
  double sensor_k(int sensor, const Vector& y) const;
  /// What it would show after a long time.
  double felt_k(int sensor, const Vector& y) const;
  /// Rate of a sensor from the rates dy/dt of the state, K/s.
  double sensor_rate(int sensor, const Vector& rate) const;

  /// Rates of the state and of the tallies.
  void rates(const Vector& y, Vector& out, Vector& tally);

  /// One slope: d(row) / d(column). Rows: the state's rates, then the tallies. Columns: the state,
  /// then the outside. Entries of the same place add up.
  struct Entry {
    int row, column;
    double value;
    bool by_thermostat = false;  // of a node, through its heater's sensor
  };
  /// The slopes at y; `floor` leaves out radiation between ends that exchange less than this share
  /// of what either exchanges with all (0: nothing is left out).
  void slopes(const Vector& y, double floor, std::vector<Entry>& out);
  /// Changes when a slope jumps: a heater enters or leaves the line of its law.
  std::uint64_t kinks(const Vector& y) const;

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  struct Duty {
    double value = 0, slope = 0;  // with the sensor, 1/K
    double by_mean = 0;           // with the mean duty
  };
  /// As a proportional thermostat of the same band.
  Duty by_band(int heater, const Vector& y) const;
  /// The line of a graded heater's law, drawn on beyond its corners.
  Duty line_of(int heater, const Vector& y) const;
  Duty duty_of(int heater, const Vector& y) const;
  double end_k(int end, const Vector& y) const {
    return end < nodes_ ? y[end] : clock.outside[end - nodes_];
  }
  /// Column of an end's temperature and of its vapour.
  int column(int end) const { return end < nodes_ ? end : size_ + end - nodes_; }
  int vapour_column(int end) const {
    return end < nodes_ ? vapour_of_node_[at(end)] : size_ + boundaries_ + end - nodes_;
  }

  // The network's links by their columns.
  struct Line {
    int a, b;
    double strength;  // W/K; m3/s for vapour
  };
  struct Carrying {  // vapour along a convection
    int a, b, convection;
  };
  struct Wet {
    int surface, air, vapour, convection;
    int film = -1;  // its state
    double area_m2, film_area_m2, share;
  };
  void compile();

  struct WetFlow {
    double beneath = 0, film = 0, run_off = 0;  // kg/s from the surface; run off: what drains
    double slope = 0;                           // of beneath + film with D, m3/s
    double beneath_slope = 0, film_slope = 0;
    double by_film = 0;  // of film with the film's mass, 1/s
  };
  template <bool with_slopes>
  WetFlow wet_flow(const Wet& wet, double difference) const;

  /// Sets values_.
  void load(const Vector& y);
  /// Conductances of the convections at values_, W/K, and their slopes with dT.
  template <bool with_slopes>
  void convect();

  const Network& net_;
  Parts parts_;
  int nodes_, boundaries_, heaters_, size_ = 0;
  int first_vapour_ = 0;
  std::vector<int> lag_state_, film_state_, vapour_of_node_;
  std::vector<int> films_;         // states
  std::vector<double> film_area_;  // m2
  std::vector<char> graded_;
  std::vector<MeanDuty> laws_;   // per heater
  std::vector<int> mean_state_;  // per heater; -1: none
  std::vector<Line> conducting_, carrying_;
  std::vector<Line> convecting_;  // columns only; their strength changes
  std::vector<Carrying> carrying_by_convection_;
  std::vector<Wet> wet_;
  std::vector<int> radiating_;  // columns of ends that radiate
  Eigen::MatrixXd exchange_;    // m2, between them
  Vector values_, sums_;        // by column: state and outside; by row: rates and tallies
  Vector exchange_sum_, fourth_, radiated_;
  Vector conductance_, bend_, dt_;
};

}  // namespace warmside::climate
