#include "armwright/motion/straight_limits.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

constexpr double within = 1 - 1e-13;  // off the edge, where all of s̈ is one number: between steep lines rounding would leave none
constexpr double too_steep = 1e150;  // beyond it a limit bounds ṡ² alone

// k, b, g and T of one row, joint accelerations then torques, padded by limits that do not count.
struct Terms {
  static constexpr std::size_t widest = (2 * max_joints + Lanes::width - 1) / Lanes::width * Lanes::width;
  alignas(Lanes) double k[widest], b[widest], g[widest], most[widest];

  Terms() {
    std::fill_n(k, widest, 1.0), std::fill_n(b, widest, 0.0), std::fill_n(g, widest, 0.0);
    std::fill_n(most, widest, unlimited);
  }
};

// A whole vector at once: copied as a struct it would come in halves, which wait for each other.
ARMWRIGHT_INLINE Lanes pack(const double* values, std::size_t p) {
  using Loose [[gnu::may_alias]] = Lanes::Vector;
  return Lanes(*reinterpret_cast<const Loose*>(values + p * Lanes::width));
}

bool limits_acceleration(const PathLimits& limits) {
  return std::any_of(limits.acceleration.begin(), limits.acceleration.end(), [](double most) { return most < unlimited; });
}

void row_terms(const PathLimits& limits, std::size_t row, std::size_t accelerations, Terms& out) {
  const std::size_t n = limits.joint_count;
  for (std::size_t i = 0; i < accelerations; ++i) {
    const std::size_t at = row * n + i;
    out.k[i] = limits.first[at], out.b[i] = limits.second[at], out.most[i] = limits.acceleration[at];
  }
  if (limits.inertia.empty()) return;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t at = row * n + i, to = accelerations + i;
    out.k[to] = limits.inertia[at], out.b[to] = limits.coriolis[at], out.g[to] = limits.gravity[at];
    out.most[to] = limits.drives[i].stated_peak;
  }
}

// |b x + g| <= most from where it holds at x = 0.
double greatest_kept(double b, double g, double most) {
  return b > 0 ? (most - g) / b : b < 0 ? (-most - g) / b : unlimited;
}

struct Pack {
  Lanes tilt, shift, half;
};

// `straight`: narrowed to where the limit bounds s̈ at all.
ARMWRIGHT_INLINE Pack pack_of(Lanes k, Lanes b, Lanes g, Lanes most, Mask& straight) {
  const Lanes each = Lanes(1.0) / k;
  const Pack out{each * b, each * g, absolute(each) * most};
  straight = straight & (absolute(out.tilt) < Lanes(too_steep)) & (absolute(out.shift) < Lanes(too_steep));
  return out;
}

ARMWRIGHT_INLINE void put(const Pack& pack, Lanes* terms) { terms[0].v = pack.tilt.v, terms[1].v = pack.shift.v, terms[2].v = pack.half.v; }

// Makes bounds on ṡ² of those of a row's limits that do not bound s̈.
void bound_rate(const Terms& terms, std::size_t packs, Lanes* row, double& greatest) {
  for (std::size_t i = 0; i < packs * Lanes::width; ++i) {
    Lanes* pack = row + 3 * (i / Lanes::width);
    Lanes &tilt = pack[0], &shift = pack[1], &half = pack[2];
    const std::size_t at = i % Lanes::width;
    if (std::fabs(tilt[at]) < too_steep && std::fabs(shift[at]) < too_steep) continue;
    greatest = std::min(greatest, std::max(0.0, greatest_kept(terms.b[i], terms.g[i], terms.most[i])));
    tilt.set(at, 0), shift.set(at, 0), half.set(at, unlimited);
  }
}

// A row's own limits, and the same as those of the row after the one before it, `width` further.
ARMWRIGHT_INLINE void set_row(const PathLimits& limits, std::size_t row, double width, Terms& terms, StraightLimits& out) {
  const std::size_t packs = out.packs;
  row_terms(limits, row, out.accelerations, terms);
  Lanes* own = out.terms.get() + row * 6 * packs;
  Lanes* before = own - 3 * packs;
  Mask straight = Lanes(0.0) < Lanes(1.0), straight_before = straight;
  Lanes half(unlimited);
  for (std::size_t p = 0; p < packs; ++p) {
    const Lanes k = pack(terms.k, p), b = pack(terms.b, p), g = pack(terms.g, p), most = pack(terms.most, p);
    const Pack here = pack_of(k, b, g, most, straight);
    half = minimum(half, here.half);
    put(here, own + 3 * p);
    if (row > 0) put(pack_of(k + Lanes(width) * b, b, g, most, straight_before), before + 3 * p);
  }
  out.bounded[row] = any(half < Lanes(unlimited));
  if (!all(straight)) {
    bound_rate(terms, packs, own, out.greatest[row]);
    half = unlimited;
    for (std::size_t p = 0; p < packs; ++p) half = minimum(half, own[3 * p + 2]);
    out.bounded[row] = any(half < Lanes(unlimited));
  }
  if (!all(straight_before)) bound_rate(terms, packs, before, out.greatest[row - 1]);
}

// What s̈ may be at x, with the slopes of the lines that bound it.
struct Wedge {
  double least, greatest, least_slope, greatest_slope;
};

// Each lane against the one `by` further: the greater and the less of them, with their slopes.
template <std::size_t By>
ARMWRIGHT_INLINE Lanes turned(Lanes a) {
  static_assert(Lanes::width == 4);
  return Lanes(__builtin_shufflevector(a.v, a.v, By, (1 + By) % 4, (2 + By) % 4, (3 + By) % 4));
}

template <std::size_t By>
ARMWRIGHT_INLINE void narrow(Lanes& low, Lanes& low_tilt, Lanes& high, Lanes& high_tilt) {
  const Lanes from = turned<By>(low), to = turned<By>(high);
  const Mask higher = from > low, lower = to < high;
  low = select(higher, from, low), low_tilt = select(higher, turned<By>(low_tilt), low_tilt);
  high = select(lower, to, high), high_tilt = select(lower, turned<By>(high_tilt), high_tilt);
}

ARMWRIGHT_INLINE Wedge wedge_at(const StraightLimits& limits, std::size_t row, double x) {
  const Lanes* terms = limits.terms.get() + row * 6 * limits.packs;
  Lanes low(-unlimited), high(unlimited), low_tilt(0.0), high_tilt(0.0);
  for (std::size_t p = 0; p < 2 * limits.packs; ++p, terms += 3) {
    const Lanes tilt(terms[0].v), half(terms[2].v), middle = -(Lanes(terms[1].v) + tilt * Lanes(x));
    const Lanes from = middle - half, to = middle + half;
    const Mask higher = from > low, lower = to < high;
    low = select(higher, from, low), low_tilt = select(higher, tilt, low_tilt);
    high = select(lower, to, high), high_tilt = select(lower, tilt, high_tilt);
  }
  narrow<2>(low, low_tilt, high, high_tilt);
  narrow<1>(low, low_tilt, high, high_tilt);
  return {low[0], high[0], -low_tilt[0], -high_tilt[0]};
}

// The greatest x at a row with least <= greatest, the row after it at most `last`; looked for from `guess` on.
ARMWRIGHT_INLINE double greatest_at(const StraightLimits& limits, std::size_t row, double width, double last, double guess) {
  const double each = 1 / width, cap = limits.greatest[row];
  double x = guess > 0 && guess < cap ? guess : cap;
  bool above = x >= cap;  // whether the edge is known not to lie above x
  for (int step = 0; step < 100; ++step) {
    Wedge u = wedge_at(limits, row, x);
    if (const double onto = each * (last - x); onto < u.greatest) u.greatest = onto, u.greatest_slope = -each;
    if (const double stop = -each * x; stop > u.least) u.least = stop, u.least_slope = -each;
    const double off = u.least - u.greatest, slope = u.least_slope - u.greatest_slope;
    if (off <= 0 && above) return x * within;
    if (std::fabs(off) <= 4e-16 * x * slope) return x * within;  // the edge itself, to rounding
    const double next = slope > 0 ? std::min(cap, x - off / slope) : off > 0 ? 0 : cap;
    above = true;  // the lines that bound at x meet at the edge or beyond
    if (next == x) return x * within;
    x = std::max(next, 1e-3 * x);  // a longer step down would leave rounding of x alone
  }
  return 0;
}

}  // namespace

bool limits_are_straight(const PathLimits& limits) {
  for (const PathLimits::ToolRow& t : limits.tool)
    if (std::isfinite(t.limits.acceleration) || std::isfinite(t.limits.turn_acceleration)) return false;
  if (!limits.inertia.empty())
    for (const AxisDrive& drive : limits.drives)
      if (drive.present) return false;
  return std::all_of(limits.greatest.begin(), limits.greatest.end(), [](double most) { return std::isfinite(most); });
}

StraightLimits straight_limits(const PathLimits& limits) {
  StraightLimits out;
  const std::size_t n = limits.joint_count;
  out.accelerations = limits_acceleration(limits) ? n : 0;
  out.packs = (out.accelerations + (limits.inertia.empty() ? 0 : n) + Lanes::width - 1) / Lanes::width;
  out.terms = std::make_unique_for_overwrite<Lanes[]>(limits.rows * 6 * out.packs);
  out.greatest = limits.greatest;
  out.bounded.resize(limits.rows);
  return out;
}

ARMWRIGHT_BATCH std::size_t straight_backward(const PathLimits& limits, std::span<const double> s, StraightLimits& lines, std::span<double> most) {
  const std::size_t last = s.size() - 1;
  Terms terms;
  for (std::size_t p = 0; p < lines.packs; ++p) put({0.0, 0.0, unlimited}, lines.terms.get() + (2 * last + 1) * 3 * lines.packs + 3 * p);
  most[last] = most[0] = 0;
  for (std::size_t row = last + 1; row-- > 0;) {
    set_row(limits, row, row > 0 ? 2 * (s[row] - s[row - 1]) : 0, terms, lines);  // in the shade of the row before, whose steps wait for each other
    if (row == last || row == 0) continue;
    const double guess = row + 1 < last ? 2 * most[row + 1] - most[row + 2] : 0;
    most[row] = greatest_at(lines, row, 2 * (s[row + 1] - s[row]), most[row + 1], guess);
    if (!(most[row] > 0)) return row;
  }
  return 0;
}

ARMWRIGHT_BATCH std::size_t straight_forward(const StraightLimits& lines, std::span<const double> s, std::span<const double> most, std::span<double> x) {
  const std::size_t rows = s.size();
  x[0] = 0;
  for (std::size_t row = 0; row + 1 < rows; ++row) {
    const double width = 2 * (s[row + 1] - s[row]);
    const Wedge u = wedge_at(lines, row, x[row]);
    const double reached = std::min(most[row + 1], x[row] + width * u.greatest), floor = std::max(0.0, x[row] + width * u.least);
    if (floor - reached > limit_rounding * (reached + x[row]) || (row + 2 < rows && !(reached > 0))) return row;
    x[row + 1] = reached;
  }
  return rows - 1;
}

}  // namespace armwright
