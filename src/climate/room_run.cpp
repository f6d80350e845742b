#include "climate/room_run.h"

#include <fmt/format.h>

#include <algorithm>
#include <barrier>
#include <cmath>
#include <thread>

#include "climate/stepper.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

/// As in transient.cpp, but looser: all enclosures share the step, and a lamp somewhere switches at
/// most moments. The year's energy changes by less than 0.05 % (docs/performance.md).
constexpr double kLargestError_k = 0.2;
constexpr double kShortestStep_s = 5;

/// One enclosure's share of a step.
struct Member {
  explicit Member(const Network& network) : stepper(network, true) {}
  Stepper stepper;
  VectorXd f0, g0, f1, right, k1, k2, tally1, tally2, middle, next;
  double error_k = 0;
  RoomCourse::Member out;
};

class RoomRunner {
 public:
  RoomRunner(const std::vector<const Network*>& enclosures, const Network& room,
             const RoomRunOptions& options)
      : room_net_(room), options_(options), room_(room, {true, true, true}) {
    for (const Network* network : enclosures)
      members_.push_back(std::make_unique<Member>(*network));
    threads_ = std::clamp(options.threads, 1, std::max(1, static_cast<int>(members_.size())));
    set_room_clock(0);
    y_ = room_.start();
    capacity_ = room_.capacity();
    vapour_ = room_.vapour_state(0);
    for (auto& member : members_) {
      member->stepper.equations.set_clock(0, second_of_day(0));
      share_air(*member, y_);
      member->stepper.y = member->stepper.equations.start();
      member->out.energy_j.assign(member->stepper.equations.net().heaters.size(), 0);
    }
    out_.energy_j.assign(room.heaters.size(), 0);
  }

  RoomCourse go() {
    std::barrier sync(threads_);
    std::vector<std::thread> helpers;
    for (int t = 1; t < threads_; ++t) {
      helpers.emplace_back([this, t, &sync] {
        while (true) {
          sync.arrive_and_wait();
          if (work_ == Work::stop) return;
          do_share(t);
          sync.arrive_and_wait();
        }
      });
    }
    sync_ = &sync;
    run();
    work_ = Work::stop;
    sync.arrive_and_wait();
    for (std::thread& helper : helpers) helper.join();
    return finish();
  }

 private:
  enum class Work { begin, first, second, take, mist, stop };

  double second_of_day(double time) const {
    return std::fmod(options_.start_second_of_day + time, kDay_s);
  }
  void set_room_clock(double time) { room_.set_clock(time, second_of_day(time)); }
  /// The room's air is boundary 0 of a member.
  static void share_air(Member& member, const VectorXd& room, int vapour) {
    auto& outside = member.stepper.equations.clock.outside;
    outside[0] = room[0];
    outside[outside.size() / 2] = room[vapour];
  }
  void share_air(Member& member, const VectorXd& room) const { share_air(member, room, vapour_); }

  /// Runs one kind of work on all members, on all threads.
  void together(Work work) {
    work_ = work;
    sync_->arrive_and_wait();
    do_share(0);
    sync_->arrive_and_wait();
  }
  void do_share(int thread) {
    for (std::size_t i = static_cast<std::size_t>(thread); i < members_.size();
         i += static_cast<std::size_t>(threads_)) {
      switch (work_) {
        case Work::begin:
          begin(*members_[i]);
          break;
        case Work::first:
          first(*members_[i]);
          break;
        case Work::second:
          second(*members_[i]);
          break;
        case Work::take:
          take(*members_[i]);
          break;
        case Work::mist:
          members_[i]->stepper.mist(second_of_day(time_ + 1e-6));
          break;
        case Work::stop:
          break;
      }
    }
  }

  // --- a member's work ---

  /// Rates at the begin of the step.
  void begin(Member& m) {
    m.stepper.equations.set_clock(time_ + 1e-6, second_of_day(time_ + 1e-6));
    share_air(m, y_);
    m.stepper.equations.rates(m.stepper.y, m.f0, m.g0);
  }
  /// The first stage, with the room's air held.
  void first(Member& m) {
    const int heat = 0, vapour = m.stepper.equations.outside_size() / 2;
    m.stepper.equations.set_clock(time_ + 1e-6, second_of_day(time_ + 1e-6));
    share_air(m, y_);
    m.stepper.prepare(h_, heat, vapour);
    m.tally1 = m.g0;
    m.stepper.solve(m.f0, m.k1, m.tally1);
  }
  /// The second stage, after the room's answer to the first.
  void second(Member& m) {
    follow(m, rate1_, m.k1, m.tally1);
    m.middle = m.stepper.y + h_ * m.k1;
    const double end = time_ + h_ - inset_s(h_);
    m.stepper.equations.set_clock(end, second_of_day(end));
    share_air(m, middle_);
    m.stepper.equations.rates(m.middle, m.f1, m.tally2);
    m.right = m.f1 - 2 * m.stepper.capacity.cwiseProduct(m.k1);
    m.tally2 -= 2 * m.tally1;
    m.stepper.solve(m.right, m.k2, m.tally2);
  }
  void follow(const Member& m, const VectorXd& rate, VectorXd& k, VectorXd& tally) const {
    k += rate[0] * m.stepper.by_hub(0) + rate[vapour_] * m.stepper.by_hub(1);
    tally += rate[0] * m.stepper.tally_by_hub(0) + rate[vapour_] * m.stepper.tally_by_hub(1);
  }
  /// The end of the step, if it is good.
  void take(Member& m) {
    const Equations& e = m.stepper.equations;
    m.tally1 = h_ * (1.5 * m.tally1 + 0.5 * m.tally2);  // from here on: of the whole step
    m.next = m.stepper.y + h_ * (1.5 * m.k1 + 0.5 * m.k2);
    for (std::size_t h = 0; h < m.out.energy_j.size(); ++h) {
      m.out.energy_j[h] += m.tally1[e.given_by(static_cast<int>(h))];
    }
    m.out.drawn_kg += m.tally1[e.drawn()];
    m.middle = m.stepper.y;  // kept for the balance
    m.stepper.y.swap(m.next);
  }

  // --- the room's ---

  void run() {
    const double end = options_.hours * 3600;
    double next_progress = kDay_s, next_record = 0;
    together(Work::mist);
    while (time_ < end - 1e-9) {
      if (options_.record_every_s > 0 && time_ >= next_record - 1e-6) {
        record();
        next_record += options_.record_every_s;
      }
      double until = std::min(end, next_event());
      if (options_.record_every_s > 0) until = std::min(until, next_record);
      step_towards(until);
      // What is due at the very end is the next run's.
      if (std::fabs(time_ - until) < 1e-6 && time_ < end - 1e-6) together(Work::mist);
      if (options_.progress && time_ >= next_progress) {
        next_progress += kDay_s;
        if (!options_.progress(time_ / end)) {
          course_.stopped = true;
          break;
        }
      }
    }
    if (options_.record_every_s > 0 && !course_.stopped) record();
  }

  void step_towards(double until) {
    together(Work::begin);
    set_room_clock(time_ + 1e-6);
    room_.rates(y_, f0_, g0_);
    outside0_ = room_.clock.outside;
    room_.slopes(y_, 0, slopes_);
    h_ = std::min({until - time_, longest_s_, options_.step_s});
    if (until - time_ > h_ && until - time_ < 1.5 * h_) h_ = (until - time_) / 2;
    while (true) {
      stages();
      double error =
          0.5 * h_ * (rate1_ + rate2_).head(room_net_.node_count()).cwiseAbs().maxCoeff();
      for (const auto& member : members_) error = std::max(error, member->error_k);
      if (error <= kLargestError_k || h_ <= kShortestStep_s) {
        if (error < kLargestError_k / 4)
          longest_s_ = std::min(2 * std::max(longest_s_, h_), options_.step_s);
        break;
      }
      longest_s_ = h_ *= 0.5;
    }
    together(Work::take);
    take_room();
  }

  /// Both stages for the step of h_.
  void stages() {
    together(Work::first);
    const int n = room_.size();
    Eigen::MatrixXd matrix = capacity_.asDiagonal();
    VectorXd outside_rate;
    set_room_clock(time_ + h_ - inset_s(h_));
    outside_rate = (room_.clock.outside - outside0_) / h_;
    VectorXd right = f0_, along = VectorXd::Zero(n);
    tally1_ = g0_;
    const double scale = kGamma * h_;
    for (const Equations::Entry& e : slopes_) {
      if (e.row < n && e.column < n) {
        matrix(e.row, e.column) -= scale * e.value;
      } else if (e.row < n) {
        along[e.row] += scale * e.value * outside_rate[e.column - n];
      } else if (e.column >= n) {
        tally1_[e.row - n] += scale * e.value * outside_rate[e.column - n];
      }
    }
    right += along;
    for (const auto& m : members_) {
      const Equations& e = m->stepper.equations;
      for (int i = 0; i < 2; ++i) {
        const int column = i == 0 ? 0 : vapour_;
        matrix(0, column) -= m->stepper.tally_by_hub(i)[e.heat_to(0)];
        matrix(vapour_, column) -= m->stepper.tally_by_hub(i)[e.vapour_to(0)];
      }
    }
    const Eigen::PartialPivLU<Eigen::MatrixXd> factors(matrix);
    gather(right, false);
    rate1_ = factors.solve(right);
    tally_along(rate1_, tally1_);
    middle_ = y_ + h_ * rate1_;
    together(Work::second);
    room_.rates(middle_, right, tally2_);
    right -= along + 2 * capacity_.cwiseProduct(rate1_);
    tally2_ -= 2 * tally1_;
    for (const Equations::Entry& e : slopes_) {
      if (e.row >= n && e.column >= n) {
        tally2_[e.row - n] -= scale * e.value * outside_rate[e.column - n];
      }
    }
    gather(right, true);
    rate2_ = factors.solve(right);
    tally_along(rate2_, tally2_);
    for (const auto& m : members_) {
      follow(*m, rate2_, m->k2, m->tally2);
      const int nodes = m->stepper.equations.net().node_count();
      m->error_k = 0.5 * h_ * (m->k1 + m->k2).head(nodes).cwiseAbs().maxCoeff();
    }
  }
  /// What the members give to the room's air in a stage, but for its own answer.
  void gather(VectorXd& right, bool second) const {
    for (const auto& m : members_) {
      // Of the second stage without -2 k1, which the room's own equation brings.
      const auto given = [&](int row) {
        return second ? m->tally2[row] + 2 * m->tally1[row] : m->tally1[row];
      };
      right[0] += given(m->stepper.equations.heat_to(0));
      right[vapour_] += given(m->stepper.equations.vapour_to(0));
    }
  }
  void tally_along(const VectorXd& rate, VectorXd& tally) const {
    const int n = room_.size();
    for (const Equations::Entry& e : slopes_) {
      if (e.row >= n && e.column < n) tally[e.row - n] += kGamma * h_ * e.value * rate[e.column];
    }
  }

  void take_room() {
    const VectorXd tally = h_ * (1.5 * tally1_ + 0.5 * tally2_);
    const VectorXd next = y_ + h_ * (1.5 * rate1_ + 0.5 * rate2_);
    double given = 0, lost = 0, latent = 0, stored = 0, vapour = 0, moved = 0, water = 0;
    const auto count = [&](const Equations& e, const VectorXd& t, const VectorXd& before,
                           const VectorXd& after, const VectorXd& capacity, int first_boundary) {
      const Network& net = e.net();
      for (int h = 0; h < static_cast<int>(net.heaters.size()); ++h) given += t[e.given_by(h)];
      for (int b = first_boundary; b < static_cast<int>(net.boundaries.size()); ++b) {
        lost += t[e.heat_to(b)];
        moved += std::fabs(t[e.heat_to(b)]);
        vapour -= t[e.vapour_to(b)];
      }
      latent += kVapourHeat_j_per_kg * t[e.evaporated()];
      vapour += t[e.evaporated()];
      water += std::fabs(t[e.evaporated()]);
      const int n = net.node_count();
      stored += capacity.head(n).dot((after - before).head(n));
      for (int v = 0; v < static_cast<int>(net.air.size()); ++v) {
        const int i = e.vapour_state(v);
        vapour -= capacity[i] * (after[i] - before[i]);
      }
    };
    count(room_, tally, y_, next, capacity_, 0);
    for (const auto& m : members_) {
      count(m->stepper.equations, m->tally1, m->middle, m->stepper.y, m->stepper.capacity, 1);
    }
    worst_j_ = std::max(worst_j_, std::fabs(given - lost - latent - stored));
    moved_j_ += moved + given;
    worst_kg_ = std::max(worst_kg_, std::fabs(vapour));
    moved_kg_ += water;
    for (std::size_t h = 0; h < out_.energy_j.size(); ++h) {
      out_.energy_j[h] += tally[room_.given_by(static_cast<int>(h))];
    }
    y_ = next;
    time_ += h_;
  }

  /// The next moment at which something bends anywhere.
  double next_event() const {
    const double now = second_of_day(time_);
    double next = next_bend_s(room_net_, time_, now);
    for (const auto& m : members_) {
      next = std::min(next, next_bend_s(m->stepper.equations.net(), time_, now, 1));
    }
    return next;
  }

  void record() {
    course_.time_s.push_back(time_);
    course_.air_k.push_back(y_[0]);
    course_.air_kg_per_m3.push_back(y_[vapour_]);
    for (auto& m : members_) {
      const Equations& e = m->stepper.equations;
      m->stepper.equations.set_clock(time_ + 1e-6, second_of_day(time_ + 1e-6));
      share_air(*m, y_);
      for (int s = 0; s < static_cast<int>(e.net().sensors.size()); ++s) {
        m->out.sensor_k.push_back(e.sensor_k(s, m->stepper.y));
      }
      for (int v = 0; v < static_cast<int>(e.net().air.size()); ++v) {
        m->out.vapour_kg_per_m3.push_back(m->stepper.y[e.vapour_state(v)]);
      }
    }
  }

  RoomCourse finish() {
    for (auto& m : members_) {
      const int n = m->stepper.equations.net().node_count();
      m->out.end_k.assign(m->stepper.y.data(), m->stepper.y.data() + n);
      course_.members.push_back(std::move(m->out));
    }
    out_.end_k.assign(y_.data(), y_.data() + room_net_.node_count());
    course_.members.push_back(std::move(out_));
    course_.reached_s = time_;
    course_.heat_balance_error = worst_j_ / std::max(moved_j_, 1.0);
    course_.water_balance_error = worst_kg_ / std::max(moved_kg_, 1e-6);
    return std::move(course_);
  }

  const Network& room_net_;
  const RoomRunOptions& options_;
  Equations room_;
  std::vector<std::unique_ptr<Member>> members_;
  int threads_ = 1, vapour_ = 0;
  std::barrier<>* sync_ = nullptr;
  Work work_ = Work::begin;
  double time_ = 0, h_ = 600, longest_s_ = 1e300;
  VectorXd y_, capacity_, f0_, g0_, outside0_, rate1_, rate2_, middle_, tally1_, tally2_;
  std::vector<Equations::Entry> slopes_;
  double worst_j_ = 0, moved_j_ = 0, worst_kg_ = 0, moved_kg_ = 0;
  RoomCourse::Member out_;
  RoomCourse course_;
};

}  // namespace

Result<RoomCourse> run_room(const std::vector<const Network*>& enclosures, const Network& room,
                            const RoomRunOptions& options) {
  const auto refuse = [](std::string what, std::string expected) {
    return Problem{ProblemCode::out_of_range, std::move(what), {}, std::move(expected), ""};
  };
  std::vector<const Network*> all = enclosures;
  all.push_back(&room);
  for (const Network* network : all) {
    if (const auto wrong = check(*network); !wrong.empty()) {
      return refuse("the network cannot be solved: " + wrong.front(), "");
    }
    if (network->air.empty()) return refuse("a network without air in a room run", "air volumes");
  }
  if (enclosures.empty() || room.air.front().node != 0) {
    return refuse("a room run without enclosures or without air", "both");
  }
  if (!(options.hours > 0 && std::isfinite(options.hours)) ||
      !(options.step_s >= 0.1 && options.step_s <= 600) || !(options.record_every_s >= 0) ||
      !(options.start_second_of_day >= 0 && options.start_second_of_day <= kDay_s) ||
      options.threads < 1 || options.threads > 64) {
    return refuse(
        "a run that cannot be",
        "more than 0 hours in steps of 0.1 to 600 s, from a second of the day, on 1 to 64 "
        "threads");
  }
  return RoomRunner(enclosures, room, options).go();
}

}  // namespace warmside::climate
