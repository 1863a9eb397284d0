// The peer for clearances: coal, with the link frames from pinocchio's headers (pin_peer.cpp is compiled in).
// Capsules on the joint frames, boxes that stand still. Least distance in two ways (every pair; pairs in the order of
// a lower bound, stopping when it passes the best), a yes/no in two ways (every pair, stopping at the first that is
// too near; the library's own dynamic tree of the boxes).
#include <algorithm>
#include <limits>
#include <vector>

#include <coal/broadphase/broadphase_dynamic_AABB_tree.h>
#include <coal/collision.h>
#include <coal/distance.h>
#include <coal/BVH/BVH_model.h>
#include <coal/shape/convex.h>
#include <coal/shape/geometric_shapes.h>

#include "pin_peer.cpp"

struct Pair {
  int a, b;  // a capsule; a box (b < boxes) or another capsule (b - boxes)
};

struct Query {
  coal::ComputeDistance distance;
  coal::ComputeCollision collision;
};

struct CoalPeer {
  PinPeer* arm;
  std::vector<std::shared_ptr<coal::Capsule>> capsules;
  std::vector<pin::SE3> capsule_in_joint;
  std::vector<int> joint;
  std::vector<std::unique_ptr<coal::CollisionObject>> boxes, moving;
  std::vector<Pair> pairs;
  std::vector<Query> queries;
  coal::DynamicAABBTreeCollisionManager tree;
};

static void place(CoalPeer& peer, const double* q) {
  auto& [model, data, last, tool] = *peer.arm;
  pin::forwardKinematics(model, *data, ConstRow(q, model.nq));
  for (std::size_t i = 0; i < peer.moving.size(); ++i) {
    const pin::SE3 X = data->oMi[static_cast<std::size_t>(peer.joint[i] + 1)] * peer.capsule_in_joint[i];
    peer.moving[i]->setTransform(X.rotation(), X.translation());
    peer.moving[i]->computeAABB();
  }
}

static const coal::CollisionObject& other(const CoalPeer& peer, int b) {
  const int boxes = static_cast<int>(peer.boxes.size());
  return b < boxes ? *peer.boxes[static_cast<std::size_t>(b)] : *peer.moving[static_cast<std::size_t>(b - boxes)];
}

using Bound = std::pair<double, std::size_t>;

/// The least distance of the posture that stands, pairs in the order of their bounding boxes' distance; or, once a pair is
/// nearer than `enough`, that pair's. `bounds`: as many as pairs.
static double least_best_first(CoalPeer& peer, double enough, std::vector<Bound>& bounds) {
  coal::DistanceRequest request;
  coal::DistanceResult result;
  for (std::size_t i = 0; i < bounds.size(); ++i) {
    const Pair& p = peer.pairs[i];
    bounds[i] = {peer.moving[static_cast<std::size_t>(p.a)]->getAABB().distance(other(peer, p.b).getAABB()), i};
  }
  // A heap costs less than a full sort: only the first few pairs are ever looked at.
  std::make_heap(bounds.begin(), bounds.end(), std::greater<Bound>());
  double least = std::numeric_limits<double>::infinity();
  // The bound is 0 where bounding boxes overlap: then all of those are asked, for the deepest pair.
  for (auto end = bounds.end(); end != bounds.begin() && bounds.front().first < std::max(least, 1e-12) && least >= enough;) {
    std::pop_heap(bounds.begin(), end, std::greater<Bound>());
    const std::size_t i = (--end)->second;
    const Pair& p = peer.pairs[i];
    result.clear();
    const double d = peer.queries[i].distance(peer.moving[static_cast<std::size_t>(p.a)]->getTransform(), other(peer, p.b).getTransform(), request, result);
    least = std::min(least, d);
  }
  return least;
}

extern "C" {

/// joints: the joint that carries each capsule; capsule_poses: in that joint's frame; sizes: radius, length between
/// the cap centres. box_poses: in the world; box_edges: 3 each. self_pairs: capsule indices, two each.
void* coal_open(void* arm, int capsules, const int* joints, const double* capsule_poses, const double* sizes, int boxes,
                const double* box_poses, const double* box_edges, int self_pairs, const int* self) {
  auto* peer = new CoalPeer;
  peer->arm = static_cast<PinPeer*>(arm);
  for (int i = 0; i < boxes; ++i) {
    auto box = std::make_shared<coal::Box>(box_edges[3 * i], box_edges[3 * i + 1], box_edges[3 * i + 2]);
    const pin::SE3 X = pose_of(box_poses + 16 * i);
    peer->boxes.push_back(std::make_unique<coal::CollisionObject>(box, X.rotation(), X.translation()));
    peer->boxes.back()->computeAABB();
    peer->tree.registerObject(peer->boxes.back().get());
  }
  peer->tree.setup();
  for (int i = 0; i < capsules; ++i) {
    peer->capsules.push_back(std::make_shared<coal::Capsule>(sizes[2 * i], sizes[2 * i + 1]));
    peer->capsule_in_joint.push_back(pose_of(capsule_poses + 16 * i));
    peer->joint.push_back(joints[i]);
    peer->moving.push_back(std::make_unique<coal::CollisionObject>(peer->capsules.back()));
    for (int k = 0; k < boxes; ++k) peer->pairs.push_back({i, k});
  }
  for (int i = 0; i < self_pairs; ++i) peer->pairs.push_back({self[2 * i], boxes + self[2 * i + 1]});
  for (const Pair& p : peer->pairs) {
    const coal::CollisionGeometry *a = peer->capsules[static_cast<std::size_t>(p.a)].get(), *b = other(*peer, p.b).collisionGeometryPtr();
    peer->queries.push_back({coal::ComputeDistance(a, b), coal::ComputeCollision(a, b)});
  }
  return peer;
}

void coal_close(void* handle) { delete static_cast<CoalPeer*>(handle); }

double coal_least_distance(void* handle, long count, const double* q, double* out) {
  CoalPeer& peer = *static_cast<CoalPeer*>(handle);
  const auto start = now();
  coal::DistanceRequest request;
  coal::DistanceResult result;
  for (long k = 0; k < count; ++k) {
    place(peer, q + k * peer.arm->model.nq);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < peer.pairs.size(); ++i) {
      result.clear();
      const Pair& p = peer.pairs[i];
      const double d = peer.queries[i].distance(peer.moving[static_cast<std::size_t>(p.a)]->getTransform(), other(peer, p.b).getTransform(), request, result);
      least = std::min(least, d);
    }
    out[k] = least;
  }
  return seconds_since(start);
}

double coal_least_distance_pruned(void* handle, long count, const double* q, double* out) {
  CoalPeer& peer = *static_cast<CoalPeer*>(handle);
  const auto start = now();
  std::vector<Bound> bounds(peer.pairs.size());
  for (long k = 0; k < count; ++k) {
    place(peer, q + k * peer.arm->model.nq);
    out[k] = least_best_first(peer, -std::numeric_limits<double>::infinity(), bounds);
  }
  return seconds_since(start);
}

double coal_is_clear(void* handle, long count, const double* q, double margin, unsigned char* out) {
  CoalPeer& peer = *static_cast<CoalPeer*>(handle);
  const auto start = now();
  coal::CollisionRequest request;
  request.security_margin = margin;
  coal::CollisionResult result;
  for (long k = 0; k < count; ++k) {
    place(peer, q + k * peer.arm->model.nq);
    bool clear = true;
    for (std::size_t i = 0; i < peer.pairs.size() && clear; ++i) {
      result.clear();
      const Pair& p = peer.pairs[i];
      clear = peer.queries[i].collision(peer.moving[static_cast<std::size_t>(p.a)]->getTransform(), other(peer, p.b).getTransform(), request, result) == 0;
    }
    out[k] = clear;
  }
  return seconds_since(start);
}
}

/// Asked by the tree for each pair whose boxes come near; answers true to stop.
struct FirstTooNear : coal::CollisionCallBackBase {
  coal::CollisionRequest request;
  bool found = false;
  bool collide(coal::CollisionObject* a, coal::CollisionObject* b) override {
    coal::CollisionResult result;
    found = found || coal::collide(a, b, request, result) > 0;
    return found;
  }
};

extern "C" double coal_is_clear_tree(void* handle, long count, const double* q, double margin, unsigned char* out) {
  CoalPeer& peer = *static_cast<CoalPeer*>(handle);
  const auto start = now();
  FirstTooNear ask;
  ask.request.security_margin = margin;
  coal::CollisionResult result;
  const int boxes = static_cast<int>(peer.boxes.size());
  for (long k = 0; k < count; ++k) {
    place(peer, q + k * peer.arm->model.nq);
    ask.found = false;
    for (auto& capsule : peer.moving) {
      capsule->getAABB().expand(margin);
      if (!ask.found) peer.tree.collide(capsule.get(), &ask);
    }
    for (std::size_t i = peer.capsules.size() * peer.boxes.size(); i < peer.pairs.size() && !ask.found; ++i) {
      const Pair& p = peer.pairs[i];
      const auto &a = *peer.moving[static_cast<std::size_t>(p.a)], &b = *peer.moving[static_cast<std::size_t>(p.b - boxes)];
      if (!a.getAABB().overlap(b.getAABB())) continue;
      result.clear();
      ask.found = peer.queries[i].collision(a.getTransform(), b.getTransform(), ask.request, result) > 0;
    }
    out[k] = !ask.found;
  }
  return seconds_since(start);
}

namespace {

// What two solids alone are asked with: the query made ready once, its search begun anew each time or where the last one ended.
struct Alone {
  coal::ComputeDistance distance;
  coal::DistanceRequest request;
  coal::DistanceResult result;

  Alone(const coal::CollisionGeometry* a, const coal::CollisionGeometry* b, bool cached) : distance(a, b) {
    if (cached) request.gjk_initial_guess = coal::GJKInitialGuess::CachedGuess;
  }
  double ask(const coal::Transform3s& a, const coal::Transform3s& b) {
    result.clear();
    const double found = distance(a, b, request, result);
    request.updateGuess(result);
    return found;
  }
};

std::vector<coal::Transform3s> transforms(long count, const double* poses) {
  std::vector<coal::Transform3s> out;
  for (long k = 0; k < count; ++k) {
    const pin::SE3 X = pose_of(poses + 16 * k);
    out.emplace_back(X.rotation(), X.translation());
  }
  return out;
}

struct HullPeer {
  std::shared_ptr<coal::Convex<coal::Triangle>> hull;
  coal::BVHModel<coal::OBBRSS> mesh;
};

}  // namespace

extern "C" {

/// Distances of one capsule in `count` places from each of the boxes, out[place][box].
double coal_capsule_boxes(void* handle, long count, const double* poses, double radius, double length, int cached, double* out) {
  CoalPeer& peer = *static_cast<CoalPeer*>(handle);
  const coal::Capsule capsule(radius, length);
  std::vector<Alone> queries;
  for (const auto& box : peer.boxes) queries.emplace_back(&capsule, box->collisionGeometryPtr(), cached != 0);
  const std::vector<coal::Transform3s> places = transforms(count, poses);
  const auto start = now();
  for (long k = 0; k < count; ++k)
    for (std::size_t b = 0; b < queries.size(); ++b) *out++ = queries[b].ask(places[static_cast<std::size_t>(k)], peer.boxes[b]->getTransform());
  return seconds_since(start);
}

/// A convex hull (points, and its triangles) and a mesh.
void* coal_hull_open(int points, const double* at, int faces, const int* corners, int mesh_points, const double* mesh_at, int triangles, const int* mesh_corners) {
  auto* peer = new HullPeer;
  auto vertices = std::make_shared<std::vector<coal::Vec3s>>();
  for (int i = 0; i < points; ++i) vertices->emplace_back(at[3 * i], at[3 * i + 1], at[3 * i + 2]);
  auto polygons = std::make_shared<std::vector<coal::Triangle>>();
  const auto triangle = [](const int* c) { return coal::Triangle(static_cast<unsigned>(c[0]), static_cast<unsigned>(c[1]), static_cast<unsigned>(c[2])); };
  for (int i = 0; i < faces; ++i) polygons->push_back(triangle(corners + 3 * i));
  peer->hull = std::make_shared<coal::Convex<coal::Triangle>>(vertices, static_cast<unsigned>(points), polygons, static_cast<unsigned>(faces));
  std::vector<coal::Vec3s> mesh_vertices;
  for (int i = 0; i < mesh_points; ++i) mesh_vertices.emplace_back(mesh_at[3 * i], mesh_at[3 * i + 1], mesh_at[3 * i + 2]);
  std::vector<coal::Triangle> mesh_triangles;
  for (int i = 0; i < triangles; ++i) mesh_triangles.push_back(triangle(mesh_corners + 3 * i));
  peer->mesh.beginModel(static_cast<unsigned>(triangles), static_cast<unsigned>(mesh_points));
  peer->mesh.addSubModel(mesh_vertices, mesh_triangles);
  peer->mesh.endModel();
  return peer;
}

/// Distance of the hull in `count` places (poses in the mesh's frame) from the mesh.
double coal_hull_mesh(void* handle, long count, const double* poses, int cached, double* out) {
  HullPeer& peer = *static_cast<HullPeer*>(handle);
  Alone query(peer.hull.get(), &peer.mesh, cached != 0);
  const std::vector<coal::Transform3s> places = transforms(count, poses);
  const coal::Transform3s still;
  const auto start = now();
  for (long k = 0; k < count; ++k) out[k] = query.ask(places[static_cast<std::size_t>(k)], still);
  return seconds_since(start);
}
}
