#include "armwright/elements/beam.hpp"

#include <cmath>

namespace armwright {

namespace {

// Bending in one plane at x by a force and a moment at the far end: shift and turn by each.
struct Plane {
  double shift_force, shift_moment, turn_force, turn_moment;
};

Plane plane_at(double x, double length, double bending, double shear) {
  return {x * x * (3 * length - x) / (6 * bending) + x / shear, x * x / (2 * bending), x * (length - x / 2) / bending, x / bending};
}

// In the x-y plane a turn about z lifts +y; in x-z a turn about y lowers z, hence `sign`.
void put_plane(SixBySix& m, std::size_t shift, std::size_t turn, double sign, const Plane& p) {
  m[shift * 6 + shift] = p.shift_force;
  m[shift * 6 + turn] = sign * p.shift_moment;
  m[turn * 6 + shift] = sign * p.turn_force;
  m[turn * 6 + turn] = p.turn_moment;
}

// What stands at x by what stands at the far end: (response at x) · (response at the end)⁻¹.
Plane shape_in_plane(const Plane& here, const Plane& end) {
  const double det = end.shift_force * end.turn_moment - end.shift_moment * end.turn_force;
  if (!(det > 0)) return {};  // rigid in this plane: its end does not move, nor does it
  return {(here.shift_force * end.turn_moment - here.shift_moment * end.turn_force) / det,
          (here.shift_moment * end.shift_force - here.shift_force * end.shift_moment) / det,
          (here.turn_force * end.turn_moment - here.turn_moment * end.turn_force) / det,
          (here.turn_moment * end.shift_force - here.turn_force * end.shift_moment) / det};
}

}  // namespace

SixBySix beam_compliance(const Beam& beam) {
  SixBySix m{};
  const double L = beam.length;
  m[0] = L / beam.along;
  m[3 * 6 + 3] = L / beam.torsion;
  put_plane(m, 1, 5, 1, plane_at(L, L, beam.bending_z, beam.shear_y));
  put_plane(m, 2, 4, -1, plane_at(L, L, beam.bending_y, beam.shear_z));
  return m;
}

SixBySix beam_shape(const Beam& beam, double station) {
  SixBySix m{};
  const double L = beam.length, x = station * L;
  m[0] = m[3 * 6 + 3] = station;
  put_plane(m, 1, 5, 1, shape_in_plane(plane_at(x, L, beam.bending_z, beam.shear_y), plane_at(L, L, beam.bending_z, beam.shear_y)));
  put_plane(m, 2, 4, -1, shape_in_plane(plane_at(x, L, beam.bending_y, beam.shear_z), plane_at(L, L, beam.bending_y, beam.shear_z)));
  return m;
}

SixBySix root_of(const SixBySix& compliance) {
  SixBySix root{};
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = compliance[i * 6 + j];
      for (std::size_t k = 0; k < j; ++k) sum -= root[i * 6 + k] * root[j * 6 + k];
      if (i == j) root[i * 6 + j] = sum > 0 ? std::sqrt(sum) : 0;
      else if (root[j * 6 + j] > 0) root[i * 6 + j] = sum / root[j * 6 + j];
    }
  return root;
}

}  // namespace armwright
