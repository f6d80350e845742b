#include "climate/room_run.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>

#include "climate/stepper.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

/// As in transient.cpp, but looser: over ten days of forty enclosures their energy is within 0.002
/// % of that by a tenth of these errors and steps of 150 s.
constexpr double kLargestOwnError_k = 0.2, kLargestRoomError_k = 0.05;
constexpr double kShortestOwnStep_s = 0.5, kShortestSharedStep_s = 5;

/// One enclosure on its way.
struct Member {
  Member(const Network& network, const RoomRunOptions& options)
      : stepper(network, true, options.start_second_of_day),
        pace(options.step_s, kShortestOwnStep_s, kLargestOwnError_k) {
    stepper.air.there = true;
    out.energy_j.assign(network.heaters.size(), 0);
  }
  Stepper stepper;
  Pace pace;
  Stepper::Step step;
  VectorXd before, tally;                   // at the begin of the shared step; what crossed in it
  const Stepper::Answer* answer = nullptr;  // to another course of the room's air
  RoomCourse::Member out;

  void start(const Stepper::Air& air) {
    stepper.air = air;
    stepper.set_clock(0);
    stepper.y = stepper.equations.start();
    stepper.mist(0);
  }

  /// Goes alone through a shared step of h in steps of its own.
  void go(double from_s, double h, const Stepper::Air& air, double end_s) {
    stepper.air = air;
    before = stepper.y;
    tally.setZero(stepper.equations.tally_size());
    const double until = from_s + h;
    double time = from_s;
    bool bend = true;
    while (time < until - 1e-9) {
      if (bend) {
        stepper.set_clock(time);
        stepper.begin();
      }
      const double event =
          next_bend_s(stepper.equations.net(), time, stepper.second_of_day(time), 1);
      const double own = stepper.step(time, std::min(event, until) - time, pace, step);
      tally += step.tally;
      bend = time + own >= std::min(event, until) - 1e-9;
      if (!bend) {
        stepper.end(step);
        stepper.begin_after(step);
      }
      stepper.y.swap(step.y);
      time += own;
      // What is due at the very end is the next run's.
      if (time >= event - 1e-9 && time < end_s - 1e-6) stepper.mist(time);
    }
    answer = &stepper.answer(h);
  }

  /// The room's air ended elsewhere than it was taken to.
  void follow(const double (&by)[2]) {
    for (int i = 0; i < 2; ++i) {
      stepper.y += by[i] * answer->y[i];
      tally += by[i] * answer->tally[i];
    }
    const Equations& e = stepper.equations;
    for (std::size_t h = 0; h < out.energy_j.size(); ++h) {
      out.energy_j[h] += tally[e.given_by(static_cast<int>(h))];
    }
    out.drawn_kg += tally[e.drawn()];
  }
};

/// Threads, each with the same members for the whole run, whose factors stay in its core's cache.
class Team {
 public:
  Team(int threads, std::size_t count, std::function<void(std::size_t)> work)
      : threads_(static_cast<std::size_t>(threads)), count_(count), work_(std::move(work)) {
    for (std::size_t t = 1; t < threads_; ++t) {
      helpers_.emplace_back([this, t] {
        for (unsigned turn = 1;; ++turn) {
          wait_for(turn_, turn);
          if (done_) return;
          do_share(t);
          finished_.fetch_add(1);
          finished_.notify_one();
        }
      });
    }
  }
  ~Team() {
    done_ = true;
    next_turn();
    for (std::thread& helper : helpers_) helper.join();
  }
  Team(const Team&) = delete;
  Team& operator=(const Team&) = delete;

  /// Does the work for each once.
  void all() {
    next_turn();
    do_share(0);
    wait_for(finished_, static_cast<unsigned>(threads_ - 1) * turn_.load());
  }

 private:
  void next_turn() {
    turn_.fetch_add(1);
    turn_.notify_all();
  }
  /// A turn takes less time than it takes to wake a thread that sleeps: at first it only yields.
  static void wait_for(const std::atomic<unsigned>& number, unsigned wanted) {
    for (int i = 0; i < kYields && number.load() != wanted; ++i) std::this_thread::yield();
    for (unsigned now = number.load(); now != wanted; now = number.load()) number.wait(now);
  }
  void do_share(std::size_t thread) {
    for (std::size_t i = count_ * thread / threads_; i < count_ * (thread + 1) / threads_; ++i) {
      work_(i);
    }
  }
  static constexpr int kYields = 1000;
  std::size_t threads_, count_;
  std::function<void(std::size_t)> work_;
  std::atomic<unsigned> turn_ = 0, finished_ = 0;
  std::atomic<bool> done_ = false;
  std::vector<std::thread> helpers_;
};

class RoomRunner {
 public:
  RoomRunner(const std::vector<const Network*>& enclosures, const Network& room,
             const RoomRunOptions& options)
      : room_net_(room),
        options_(options),
        room_(room, true, options.start_second_of_day),
        pace_(options.step_s, kShortestSharedStep_s, kLargestRoomError_k),
        vapour_(room_.equations.vapour_state(0)) {
    room_.set_clock(0);
    room_.y = room_.equations.start();
    room_.given.setZero(room_.equations.size());
    for (const Network* network : enclosures) {
      members_.push_back(std::make_unique<Member>(*network, options));
      members_.back()->start(air_to(room_.y, 1));
    }
    out_.energy_j.assign(room.heaters.size(), 0);
  }

  RoomCourse go() {
    const int threads = std::min(options_.threads, static_cast<int>(members_.size()));
    Team team(threads, members_.size(),
              [this](std::size_t i) { members_[i]->go(time_, h_, air_, options_.hours * 3600); });
    run(team);
    return finish();
  }

 private:
  /// The room's air on its way from now to another state.
  Stepper::Air air_to(const VectorXd& next, double h) const {
    Stepper::Air air{true, time_, room_.y[0], 0, room_.y[vapour_], 0};
    air.k_per_s = (next[0] - air.k) / h;
    air.kg_per_m3_s = (next[vapour_] - air.kg_per_m3) / h;
    return air;
  }

  void run(Team& team) {
    const double end = options_.hours * 3600;
    double next_progress = kDay_s, next_record = 0;
    while (time_ < end - 1e-9) {
      if (options_.record_every_s > 0 && time_ >= next_record - 1e-6) {
        record();
        next_record += options_.record_every_s;
      }
      double until = std::min(end, next_bend_s(room_net_, time_, room_.second_of_day(time_)));
      if (options_.record_every_s > 0) until = std::min(until, next_record);
      step_towards(until, team);
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

  void step_towards(double until, Team& team) {
    // Where the room would go with what its enclosures gave in the step before.
    room_.set_clock(time_);
    room_.begin();
    h_ = room_.step(time_, until - time_, pace_, step_);
    air_ = air_to(step_.y, h_);
    team.all();
    const double taken_k = step_.y[0], taken_kg_per_m3 = step_.y[vapour_];

    // What they gave on that course, in the order of the members whatever the threads did, and how
    // it changes with the course's end.
    Eigen::Vector2d gave(0, 0);
    Eigen::Matrix2d answers = Eigen::Matrix2d::Zero();
    for (const auto& m : members_) {
      const Equations& e = m->stepper.equations;
      const int rows[2] = {e.heat_to(0), e.vapour_to(0)};
      for (int i = 0; i < 2; ++i) {
        gave[i] += m->tally[rows[i]];
        for (int j = 0; j < 2; ++j) answers(i, j) += m->answer->tally[j][rows[i]];
      }
    }
    // How the room's end answers to what it is given: all but straight, so by differences.
    const double unit[2] = {0.1 * room_.capacity[0] / h_, 1e-4 * room_.capacity[vapour_] / h_};
    Eigen::Matrix2d moves;
    for (int j = 0; j < 2; ++j) {
      go_with(given_[0] + (j == 0 ? unit[0] : 0), given_[1] + (j == 1 ? unit[1] : 0));
      moves(0, j) = (step_.y[0] - taken_k) / unit[j];
      moves(1, j) = (step_.y[vapour_] - taken_kg_per_m3) / unit[j];
    }
    // by = moves (given - before), given = (gave + answers by) / h
    const Eigen::Vector2d before(given_[0], given_[1]);
    const Eigen::Vector2d by = (Eigen::Matrix2d::Identity() - moves * answers / h_).inverse() *
                               (moves * (gave / h_ - before));
    const Eigen::Vector2d given = (gave + answers * by) / h_;
    go_with(given[0], given[1]);
    given_[0] = given[0];
    given_[1] = given[1];
    for (const auto& m : members_) m->follow({by[0], by[1]});
    take();
  }

  /// The room's own step while it is given so much heat, W, and vapour, kg/s.
  void go_with(double heat_w, double vapour_kg_per_s) {
    room_.given[0] = heat_w;
    room_.given[vapour_] = vapour_kg_per_s;
    room_.set_clock(time_);
    room_.begin();
    room_.step(time_, h_, step_);
  }

  void take() {
    double given = 0, lost = 0, latent = 0, stored = 0, vapour = 0, moved = 0, water = 0;
    const auto count = [&](const Stepper& stepper, const VectorXd& t, const VectorXd& before,
                           const VectorXd& after, int first_boundary) {
      const Equations& e = stepper.equations;
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
      stored += stepper.capacity.head(n).dot((after - before).head(n));
      for (int v = 0; v < static_cast<int>(net.air.size()); ++v) {
        const int i = e.vapour_state(v);
        vapour -= stepper.capacity[i] * (after[i] - before[i]);
      }
    };
    count(room_, step_.tally, room_.y, step_.y, 0);
    for (const auto& m : members_) count(m->stepper, m->tally, m->before, m->stepper.y, 1);
    worst_j_ = std::max(worst_j_, std::fabs(given - lost - latent - stored));
    moved_j_ += moved + given;
    worst_kg_ = std::max(worst_kg_, std::fabs(vapour));
    moved_kg_ += water;
    for (std::size_t h = 0; h < out_.energy_j.size(); ++h) {
      out_.energy_j[h] += step_.tally[room_.equations.given_by(static_cast<int>(h))];
    }
    room_.y.swap(step_.y);
    time_ += h_;
  }

  void record() {
    course_.time_s.push_back(time_);
    course_.air_k.push_back(room_.y[0]);
    course_.air_kg_per_m3.push_back(room_.y[vapour_]);
    for (auto& m : members_) {
      const Equations& e = m->stepper.equations;
      m->stepper.air = air_to(room_.y, 1);
      m->stepper.set_clock(time_);
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
    out_.end_k.assign(room_.y.data(), room_.y.data() + room_net_.node_count());
    course_.members.push_back(std::move(out_));
    course_.reached_s = time_;
    course_.heat_balance_error = worst_j_ / std::max(moved_j_, 1.0);
    course_.water_balance_error = worst_kg_ / std::max(moved_kg_, 1e-6);
    return std::move(course_);
  }

  const Network& room_net_;
  const RoomRunOptions& options_;
  Stepper room_;
  Pace pace_;
  int vapour_;
  std::vector<std::unique_ptr<Member>> members_;
  double time_ = 0, h_ = 0;
  Stepper::Air air_;
  Stepper::Step step_;
  double given_[2] = {0, 0};  // by the enclosures in the last step, W and kg/s
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
