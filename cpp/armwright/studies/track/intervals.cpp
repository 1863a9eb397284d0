#include "armwright/studies/track/intervals.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/spun_arm.hpp"
#include "armwright/studies/track/lookout.hpp"

namespace armwright {

namespace track {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double finest = 1e-4;      // m: a change and back is looked for down to this
constexpr double end_within = 1e-6;  // m: ends are found to this
constexpr double beyond = 3e-5;      // m: other branches are looked for so far beyond an end

struct Span {
  double lower, upper;
};

class Finder {
 public:
  Finder(const Setting& setting, const TargetSpec& target, const StopSign& stop)
      : setting_(setting), model_(*setting.model), target_(target), stop_(stop), lookout_(setting, target) {}

  std::vector<TrackInterval> run() {
    const bool turns = target_.free_spin || target_.tilt > 0, free = turns || !setting_.beyond.empty();
    double step = setting_.request.turn_step;
    for (int round = 0; round < 3 && spans_.empty() && (round == 0 || turns); ++round, step *= 0.5) {
      choices_ = lookout_.choices(step);
      for (const Choice& choice : choices_) scan_what_is_left(choice);
      if (!turns) add_single_positions();
    }
    if (free) {
      seek_between(step);
      widen(step);
    }
    std::vector<TrackInterval> found;
    for (const Span& span : spans_) found.push_back({span.lower, span.upper, best_posture(0.5 * (span.lower + span.upper))});
    return found;
  }

 private:
  void examine(const Choice& choice, const Sample& a, const Sample& b, std::vector<Span>& found) {
    const double slid = b.at - a.at;
    if (a.served != b.served ? slid <= end_within : slid <= finest || !may_change(model_, a, b)) {
      if (a.served && b.served) found.push_back({a.at, b.at});
      else if (a.served) found.push_back({a.at, a.at});
      else if (b.served) found.push_back({b.at, b.at});
      return;
    }
    Sample middle;
    lookout_.look(choice, 0.5 * (a.at + b.at), middle);
    examine(choice, a, middle, found);
    examine(choice, middle, b, found);
  }

  void add_single_positions() {
    std::vector<Span> found = spans_;
    for (const Choice& choice : choices_)
      for (const double at : lookout_.single_positions(choice)) found.push_back({at, at});
    spans_ = joined(std::move(found));
  }

  void scan_what_is_left(const Choice& choice) {
    std::vector<Span> found = spans_;
    for (const Span& span : left()) {
      const auto steps = static_cast<std::size_t>(std::max(1.0, std::ceil((span.upper - span.lower) / setting_.request.scan_step)));
      Sample a, b;
      lookout_.look(choice, span.lower, a);
      for (std::size_t k = 1; k <= steps && !stop_.raised(); ++k) {
        lookout_.look(choice, span.lower + (span.upper - span.lower) * static_cast<double>(k) / static_cast<double>(steps), b);
        examine(choice, a, b, found);
        std::swap(a, b);
      }
    }
    spans_ = joined(std::move(found));
  }

  std::vector<Span> left() const {
    std::vector<Span> found;
    double from = model_.lower[0];
    for (const Span& span : spans_) {
      if (span.lower > from) found.push_back({from, span.lower});
      from = span.upper;
    }
    if (from < model_.upper[0] || model_.upper[0] == model_.lower[0]) found.push_back({from, model_.upper[0]});
    return found;
  }

  // Where the choices tried nearly serve, those between them may: from each such place up hill over attitudes and the track.
  void seek_between(double angle) {
    for (const Span& span : left()) {
      const auto steps = static_cast<std::size_t>(std::max(2.0, std::ceil((span.upper - span.lower) / (2 * setting_.request.scan_step))));
      std::vector<double> most(steps + 1, -infinity);
      std::vector<std::size_t> which(steps + 1, 0);
      const auto place = [&](std::size_t k) { return span.lower + (span.upper - span.lower) * static_cast<double>(k) / static_cast<double>(steps); };
      for (std::size_t c = 0; c < choices_.size() && !stop_.raised(); ++c)
        for (std::size_t k = 0; k <= steps; ++k)
          if (const double spare = lookout_.spare(choices_[c], place(k)); spare > most[k]) most[k] = spare, which[k] = c;
      for (std::size_t k = 1; k < steps && !stop_.raised(); ++k) {
        if (most[k] < -1.5 * angle || most[k] < most[k - 1] || most[k] < most[k + 1]) continue;
        Choice centre = choices_[which[k]];
        if (!climb(centre, place(k), span, angle)) continue;
        choices_.push_back(centre);
        scan_what_is_left(centre);
      }
    }
  }

  // Up hill until the choice serves.
  bool climb(Choice& centre, double at, const Span& within, double angle) {
    double most = lookout_.spare(centre, at), slide = setting_.request.scan_step;
    int round = 0;
    for (double step = angle; step > 1e-4 && most < 0 && !stop_.raised(); ++round) {
      bool better = false;
      const double here = at;
      for (const double place : {here, std::max(within.lower, here - slide), std::min(within.upper, here + slide)}) {
        std::vector<Choice> tried = lookout_.neighbours(centre, step, round);
        tried.push_back(centre);
        for (const Choice& choice : tried) {
          const double spare = lookout_.spare(choice, place);
          if (!(spare > most)) continue;
          most = spare, centre = choice, at = place, better = true;
        }
        if (better) break;
      }
      if (!better) step *= 0.6, slide *= 0.6;
    }
    return most >= 0;
  }

  static std::vector<Span> joined(std::vector<Span> spans) {
    std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.lower < b.lower; });
    std::vector<Span> out;
    for (const Span& span : spans) {
      if (!out.empty() && span.lower <= out.back().upper + 1e-9) out.back().upper = std::max(out.back().upper, span.upper);
      else out.push_back(span);
    }
    return out;
  }

  // How far beyond `from` a choice serves, one way (sign), without a break wider than the scan step; negative: not even there.
  double extent(const Choice& choice, double from, double sign) {
    if (!lookout_.serves(choice, from)) return -1;
    const double most = sign > 0 ? model_.upper[0] - from : from - model_.lower[0];
    double good = 0, step = finest;
    while (good < most) {
      double bad = std::min(most, good + step);
      if (lookout_.serves(choice, from + sign * bad)) {
        good = bad;
        step = std::min(2 * step, setting_.request.scan_step);
        continue;
      }
      while (bad - good > end_within) {
        const double middle = 0.5 * (good + bad);
        (lookout_.serves(choice, from + sign * middle) ? good : bad) = middle;
      }
      break;
    }
    return good;
  }

  struct Start {
    double merit;
    Choice choice;
  };

  // The choices with most merit first, no more than `count`.
  template <class Merit>
  std::vector<Start> best_choices(std::size_t count, const Merit& merit) {
    std::vector<Start> starts;
    for (const Choice& choice : choices_)
      if (const double m = merit(choice); m > -infinity) starts.push_back({m, choice});
    std::stable_sort(starts.begin(), starts.end(), [](const Start& a, const Start& b) { return a.merit > b.merit; });
    if (starts.size() > count) starts.resize(count);
    return starts;
  }

  // How far beyond `from` attitudes serve that are reached step by step from one that serves there.
  double driven(Choice centre, double from, double sign, double angle) {
    double far = extent(centre, from, sign);
    int round = 0;
    for (double step = angle; step > 1e-6 && !stop_.raised(); ++round) {
      bool better = false;
      for (const Choice& choice : lookout_.neighbours(centre, step, round)) {
        const double more = extent(choice, from + sign * far, sign);
        if (more <= end_within) continue;
        far += more, centre = choice, better = true;
        break;
      }
      if (!better) step *= 0.7;
    }
    return far;
  }

  // Drives one end outwards over the attitudes, then from others that nearly serve just beyond it: another branch may serve farther.
  double driven_end(double from, double sign, double angle) {
    const double last = sign > 0 ? model_.upper[0] : model_.lower[0];
    double end = from;
    for (const Start& start : best_choices(3, [&](const Choice& choice) { const double far = extent(choice, from, sign); return far < 0 ? -infinity : far; }))
      end = sign * std::max(sign * end, sign * from + driven(start.choice, from, sign, angle));
    for (bool better = true; better && sign * (last - end) > 2 * beyond && !stop_.raised();) {
      better = false;
      const double place = end + sign * beyond;
      for (Start& start : best_choices(8, [&](const Choice& choice) { return lookout_.spare(choice, place); })) {
        if (start.merit < -1.5 * angle || !climb(start.choice, place, {place, place}, angle)) continue;
        end = place + sign * driven(start.choice, place, sign, angle);
        better = true;
        break;
      }
    }
    return end;
  }

  void widen(double step) {
    for (std::size_t k = 0; k < spans_.size() && !stop_.raised(); ++k) {
      if (spans_[k].lower > model_.lower[0]) spans_[k].lower = std::min(spans_[k].lower, driven_end(spans_[k].lower, -1, step));
      if (spans_[k].upper < model_.upper[0]) spans_[k].upper = std::max(spans_[k].upper, driven_end(spans_[k].upper, 1, step));
    }
    spans_ = joined(std::move(spans_));
  }

  std::array<double, max_joints> best_posture(double at) {
    std::array<double, max_joints> best{};
    double most = -infinity;
    for (const Choice& choice : choices_) {
      lookout_.look(choice, at, scratch_);
      for (int i = 0; i < scratch_.count; ++i) {
        const Stand& stand = scratch_.stand[static_cast<std::size_t>(i)];
        if (stand.served && stand.roominess > most) most = stand.roominess, best = stand.q;
      }
    }
    if (most == -infinity) best.fill(std::numeric_limits<double>::quiet_NaN());  // served there in an attitude between those tried, or alone
    return best;
  }

  const Setting& setting_;
  const Model& model_;
  const TargetSpec& target_;
  const StopSign& stop_;
  Lookout lookout_;
  Sample scratch_;
  std::vector<Choice> choices_;
  std::vector<Span> spans_;  // served, in order
};

Setting setting_of(const std::shared_ptr<const ArmInverse>& inverse, const std::shared_ptr<const Scene>& scene, const TrackIntervalRequest& request) {
  Setting setting;
  setting.model = {inverse, &inverse->model};
  const Model& model = inverse->model;
  setting.inverse = with_track_given(inverse);
  setting.spun = spun_arm(*setting.inverse);
  if (inverse->redundant.empty()) setting.sliding = inverse;
  if (scene) setting.spare = spare_scene(*scene, request.margin);
  const auto& redundant = setting.inverse->redundant;
  setting.beyond.assign(redundant.begin() + 1, redundant.end());
  setting.values = spread_values(model, setting.beyond, request.slide_step, request.turn_step);
  Pose carriage = model.base;
  advance(model.step[0], 0.0, carriage);
  setting.along = carriage.rotation.z;
  setting.reach = longest_reach(model);
  setting.request = request;
  return setting;
}

}  // namespace

}  // namespace track

std::vector<std::vector<TrackInterval>> track_intervals(const std::shared_ptr<const ArmInverse>& inverse, std::shared_ptr<const Scene> scene,
                                                        std::span<const TargetSpec> targets, const TrackIntervalRequest& request,
                                                        unsigned threads, const Progress& progress) {
  const track::Setting setting = track::setting_of(inverse, scene, request);
  std::vector<std::vector<TrackInterval>> found(targets.size());
  const bool complete = for_each_piece(targets.size(), threads, progress, [&](std::size_t piece, std::size_t, const StopSign& stop) {
    found[piece] = track::Finder(setting, targets[piece], stop).run();
  });
  if (!complete) found.clear();
  return found;
}

}  // namespace armwright
