#include "armwright/spatial/signed_sum.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

// Of unit vectors: nearer to parallel, or to square, than this they count as being so; rounding, not geometry.
constexpr double as_good_as = 1e-12;
constexpr std::size_t net_steps = 24;  // along an edge of the cube that carries the net

double sign_of(double x) { return x < 0 ? -1 : 1; }

// Parallel vectors go together, whatever the direction: one vector each, the sum of all.
void take_apart(std::span<const Vec3> vectors, std::vector<Vec3>& out) {
  out.clear();
  for (const Vec3& v : vectors) {
    const double length = norm(v);
    if (!(length > 0)) continue;
    bool taken = false;
    for (Vec3& known : out) {
      if (norm(cross(known, v)) > as_good_as * length * norm(known)) continue;
      known = known + sign_of(dot(known, v)) * v;
      taken = true;
      break;
    }
    if (!taken) out.push_back(v);
  }
}

Vec3 sum_along(std::span<const Vec3> vectors, const Vec3& direction) {
  Vec3 sum{0, 0, 0};
  for (const Vec3& v : vectors) sum = sum + sign_of(dot(v, direction)) * v;
  return sum;
}

void keep_longer(Vec3& best, const Vec3& sum) {
  if (dot(sum, sum) > dot(best, best)) best = sum;
}

// The signs of a sum's own direction never make it shorter: |S'| >= S' · S / |S| = sum |v_k · S| / |S| >= |S|.
void lengthen(std::span<const Vec3> vectors, Vec3& sum) {
  for (int round = 0; round < 100; ++round) {
    const Vec3 longer = sum_along(vectors, sum);
    if (!(dot(longer, longer) > dot(sum, sum))) return;
    sum = longer;
  }
}

// The corner square to vectors i and j, and the four or more cells that meet there. Those not square to it have their
// signs; the others lie in one plane, where the cells about the corner end at lines square to one of them.
void try_corner(std::span<const Vec3> v, std::size_t i, std::size_t j, std::vector<std::size_t>& level, Vec3& best) {
  const Vec3 corner = cross(v[i], v[j]);
  const double size = as_good_as * norm(corner);
  Vec3 settled{0, 0, 0};
  level.clear();
  for (std::size_t k = 0; k < v.size(); ++k) {
    const double along = dot(v[k], corner);
    if (k == i || k == j || std::fabs(along) <= size * norm(v[k])) level.push_back(k);
    else settled = settled + sign_of(along) * v[k];
  }
  for (const std::size_t edge : level) {
    const Vec3 line = cross(corner, v[edge]);
    Vec3 beside{0, 0, 0};
    for (const std::size_t k : level)
      if (k != edge) beside = beside + sign_of(dot(v[k], line)) * v[k];
    for (const double side : {-1.0, 1.0})
      for (const double end : {-1.0, 1.0}) keep_longer(best, settled + side * beside + end * v[edge]);
    if (level.size() == 2) return;  // the other edge has the same four
  }
}

// Directions over half the sphere, from the middles of the squares of three faces of a cube about it: calls each(u), u of
// length 1. No direction is farther from the nearest one than from the middle of a square to its corner, seen from the
// face's middle, where it looks largest: tan a = sqrt(2) / net_steps.
template <class Each>
void over_net(Each&& each) {
  constexpr double step = 2.0 / net_steps;
  for (std::size_t i = 0; i < net_steps; ++i) {
    for (std::size_t j = 0; j < net_steps; ++j) {
      const double a = -1 + step * (static_cast<double>(i) + 0.5), b = -1 + step * (static_cast<double>(j) + 0.5);
      const double scale = 1 / std::sqrt(1 + a * a + b * b);
      each(Vec3{scale, scale * a, scale * b});
      each(Vec3{scale * a, scale, scale * b});
      each(Vec3{scale * a, scale * b, scale});
    }
  }
}

SignedSum bounded(std::span<const Vec3> vectors) {
  SignedSum found{0, {0, 0, 0}, false};
  double widest = 0;
  over_net([&](const Vec3& direction) {
    const Vec3 sum = sum_along(vectors, direction);
    widest = std::max(widest, dot(sum, direction));
    keep_longer(found.sum, sum);
  });
  lengthen(vectors, found.sum);
  // The longest sum S, of direction s, has width |S| cos a at least along the net's direction nearest to s.
  const double bound = widest * std::sqrt(1 + 2.0 / (net_steps * net_steps));
  found.length = std::max(bound, norm(found.sum));
  return found;
}

}  // namespace

SignedSum longest_signed_sum(std::span<const Vec3> vectors, std::size_t most_exact, SignedSumWork& work) {
  take_apart(vectors, work.vectors);
  const std::span<const Vec3> v{work.vectors};
  if (v.size() > most_exact) return bounded(v);
  Vec3 best = v.empty() ? Vec3{0, 0, 0} : v[0];
  for (std::size_t i = 0; i < v.size(); ++i)
    for (std::size_t j = i + 1; j < v.size(); ++j) try_corner(v, i, j, work.level, best);
  lengthen(v, best);
  return {norm(best), best, true};
}

void longest_signed_sums(std::span<const double> vectors, std::size_t count, std::size_t most_exact, std::span<double> lengths,
                         std::span<double> sums, std::span<std::uint8_t> exact) {
  SignedSumWork work;
  std::vector<Vec3> row(count);
  for (std::size_t at = 0; at < lengths.size(); ++at) {
    for (std::size_t k = 0; k < count; ++k) {
      const double* from = &vectors[3 * (at * count + k)];
      row[k] = {from[0], from[1], from[2]};
    }
    const SignedSum found = longest_signed_sum(row, most_exact, work);
    lengths[at] = found.length;
    sums[3 * at] = found.sum.x, sums[3 * at + 1] = found.sum.y, sums[3 * at + 2] = found.sum.z;
    exact[at] = found.exact ? 1 : 0;
  }
}

}  // namespace armwright
