#include "armwright/spatial/inertia.hpp"

namespace armwright {

namespace {

// Steiner's theorem: what is added about a point at r from the centre.
void add_offset(Inertia& body, double mass, const Vec3& r) {
  body.xx += mass * (r.y * r.y + r.z * r.z);
  body.yy += mass * (r.x * r.x + r.z * r.z);
  body.zz += mass * (r.x * r.x + r.y * r.y);
  body.xy -= mass * r.x * r.y;
  body.xz -= mass * r.x * r.z;
  body.yz -= mass * r.y * r.z;
}

}  // namespace

Inertia operator*(const Pose& X_AB, const Inertia& b) {
  const Rotation& R = X_AB.rotation;
  const Rotation I{{b.xx, b.xy, b.xz}, {b.xy, b.yy, b.yz}, {b.xz, b.yz, b.zz}};
  const Rotation turned = R * (I * transpose(R));
  return {b.mass, X_AB * b.centre, turned.x.x, turned.y.y, turned.z.z, turned.x.y, turned.x.z, turned.y.z};
}

Inertia operator+(const Inertia& a, const Inertia& b) {
  const double mass = a.mass + b.mass;
  if (mass <= 0) return {0, a.centre, a.xx + b.xx, a.yy + b.yy, a.zz + b.zz, a.xy + b.xy, a.xz + b.xz, a.yz + b.yz};
  Inertia sum{mass, (1 / mass) * (a.mass * a.centre + b.mass * b.centre),
              a.xx + b.xx, a.yy + b.yy, a.zz + b.zz, a.xy + b.xy, a.xz + b.xz, a.yz + b.yz};
  add_offset(sum, a.mass, a.centre - sum.centre);
  add_offset(sum, b.mass, b.centre - sum.centre);
  return sum;
}

}  // namespace armwright
