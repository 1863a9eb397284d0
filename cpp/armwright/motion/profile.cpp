#include "armwright/motion/profile.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

// The first half: rising, constant and falling acceleration, then cruise.
ProfileState first_half(const Profile& p, double t, bool after) {
  const double held = p.accelerating - p.ramp;  // when the acceleration starts to fall
  const double rounding = 1e-13 * p.duration();  // of times that were added up elsewhere
  const auto reached = [&](double limit) { return after ? t >= limit - rounding : t > limit + rounding; };
  if (reached(p.accelerating)) {
    return {0.5 * p.speed * p.accelerating + p.speed * (t - p.accelerating), p.speed, 0, 0};
  }
  if (reached(held) && p.ramp > 0) {
    const double left = p.accelerating - t;
    return {0.5 * p.speed * p.accelerating - p.speed * left + p.jerk * left * left * left / 6, p.speed - 0.5 * p.jerk * left * left, p.jerk * left, -p.jerk};
  }
  if (reached(p.ramp)) {
    const double since = t - p.ramp, v = 0.5 * p.jerk * p.ramp * p.ramp;
    return {v * p.ramp / 3 + v * since + 0.5 * p.acceleration * since * since, v + p.acceleration * since, p.acceleration, 0};
  }
  return {p.jerk * t * t * t / 6, 0.5 * p.jerk * t * t, p.jerk * t, p.jerk};
}

}  // namespace

ProfileState state_at(const Profile& profile, double time, Side side) {
  const double all = profile.duration();
  const bool after = side == Side::after;
  if (time < 0 || (time == 0 && !after)) return {0, 0, 0, 0};
  if (time > all || (time == all && after)) return {profile.distance, 0, 0, 0};
  const double half = 0.5 * all;
  if (time < half || (time <= half * (1 + 1e-13) && !after)) return first_half(profile, time, after);
  const ProfileState back = first_half(profile, all - time, !after);
  return {profile.distance - back.position, back.speed, -back.acceleration, back.jerk};
}

double time_at(const Profile& profile, double position) {
  const double all = profile.duration();
  if (position <= 0) return 0;
  if (position >= profile.distance) return all;
  double low = 0, high = all, time = all * position / profile.distance;
  for (int step = 0; step < 80 && high - low > 1e-16 * all; ++step) {
    const ProfileState state = state_at(profile, time);
    (state.position < position ? low : high) = time;
    const double newton = time - (state.position - position) / state.speed;
    const double next = state.speed > 0 && newton > low && newton < high ? newton : 0.5 * (low + high);
    if (next == time) break;
    time = next;
  }
  return time;
}

Profile stretched(const Profile& profile, double duration) {
  const double own = profile.duration();
  const double k = own > 0 ? std::max(1.0, duration / own) : 1;
  Profile p = profile;
  p.ramp *= k, p.accelerating *= k, p.cruise *= k;
  p.speed /= k, p.acceleration /= k * k, p.jerk /= k * k * k;
  return p;
}

std::size_t phase_times(const Profile& profile, double* times) {
  const double all = profile.duration(), ramp = profile.ramp, up = profile.accelerating;
  const double every[8] = {0, ramp, up - ramp, up, up + profile.cruise, all - (up - ramp), all - ramp, all};
  std::size_t count = 0;
  for (const double time : every)
    if (count == 0 || time > times[count - 1] + 1e-12 * all) times[count++] = time;
  if (count > 1) times[count - 1] = all;
  return count;
}

}  // namespace armwright
