#include "armwright/clearance/bullet.hpp"

#include <BulletCollision/CollisionShapes/btConvexShape.h>
#include <BulletCollision/NarrowPhaseCollision/btGjkEpa2.h>

#include <cmath>
#include <sstream>

#include "armwright/clearance/scene.hpp"

namespace armwright {

namespace {

btVector3 to_bullet(const Vec3& v) { return {v.x, v.y, v.z}; }
Vec3 from_bullet(const btVector3& v) { return {v.x(), v.y(), v.z()}; }
btTransform to_bullet(const Pose& X) {
  const auto& [R, p] = X;
  return btTransform(btMatrix3x3(R.x.x, R.y.x, R.z.x, R.x.y, R.y.y, R.z.y, R.x.z, R.y.z, R.z.z), to_bullet(p));
}

// A core as Bullet wants to see it. Only the support mapping is ever asked for.
class CoreShape final : public btConvexShape {
 public:
  explicit CoreShape(const Core& core) : core_(core) { m_shapeType = CUSTOM_CONVEX_SHAPE_TYPE; }
  btVector3 localGetSupportingVertexWithoutMargin(const btVector3& way) const override { return to_bullet(support(core_, from_bullet(way))); }
  btVector3 localGetSupportingVertex(const btVector3& way) const override { return localGetSupportingVertexWithoutMargin(way); }
  void batchedUnitVectorGetSupportingVertexWithoutMargin(const btVector3* ways, btVector3* out, int count) const override {
    for (int i = 0; i < count; ++i) out[i] = localGetSupportingVertexWithoutMargin(ways[i]);
  }
  void getAabb(const btTransform&, btVector3& low, btVector3& high) const override { low = high = btVector3(0, 0, 0); }
  void getAabbSlow(const btTransform& X, btVector3& low, btVector3& high) const override { getAabb(X, low, high); }
  void setLocalScaling(const btVector3&) override {}
  const btVector3& getLocalScaling() const override { return scaling_; }
  void setMargin(btScalar) override {}
  btScalar getMargin() const override { return 0; }
  int getNumPreferredPenetrationDirections() const override { return 0; }
  void getPreferredPenetrationDirection(int, btVector3& way) const override { way = btVector3(0, 0, 1); }
  void calculateLocalInertia(btScalar, btVector3& inertia) const override { inertia = btVector3(0, 0, 0); }
  const char* getName() const override { return "core"; }

 private:
  const Core& core_;
  btVector3 scaling_{1, 1, 1};
};

btVector3 first_guess(const Pose& X_AB) {
  const Vec3& p = X_AB.position;
  return dot(p, p) > 0 ? to_bullet(-p) : btVector3(1, 0, 0);
}

}  // namespace

BulletAnswer bullet_distance(const Core& a, const Core& b, const Pose& X_AB) {
  const CoreShape first(a), second(b);
  btGjkEpaSolver2::sResults results;
  const bool apart = btGjkEpaSolver2::Distance(&first, btTransform::getIdentity(), &second, to_bullet(X_AB), first_guess(X_AB), results);
  BulletAnswer answer;
  answer.found = apart;
  if (apart) answer.separation = {results.distance, from_bullet(results.witnesses[0]), from_bullet(results.witnesses[1])};
  return answer;
}

std::string self_test() {
  const Vec3 centre{0, 0, 0};
  Core point, box;
  point.kind = Core::Kind::points;
  point.points = &centre;
  point.count = 1;
  box.half = {1, 1, 1};
  const BulletAnswer answer = bullet_distance(point, box, {no_rotation, {2.5, 0.5, 0}});
  const double distance = answer.separation.distance - 0.25;  // a sphere of radius 0.25 and a box of edge 2
  if (answer.found && std::fabs(distance - 1.25) < 1e-9) return "";
  std::ostringstream text;
  text << "the Bullet library gives " << distance << " m between a sphere and a box that are 1.25 m apart; "
       << "it is probably the one built for single precision: the double precision build is needed";
  return text.str();
}

}  // namespace armwright
