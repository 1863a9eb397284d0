#pragma once

#include <string>
#include <vector>

#include "kinematics/random_arms.hpp"

namespace armwright::testing {

/// Arms with no closed form, told by what their axes do; dimensions random, 0.1 to 1 m, links between axes i and i+1:
/// a[i] common normal, alpha[i] twist, d[i] along axis i+1 (standard terms, modified Denavit-Hartenberg rows).
struct ArmRows {
  std::array<double, 6> a{}, alpha{}, d{};
};

inline SixChain chain_of(const ArmRows& rows, const Pose& end) {
  SixChain chain;
  for (std::size_t i = 0; i < 6; ++i) {
    const double s = std::sin(rows.alpha[i]), c = std::cos(rows.alpha[i]);
    chain.step[i] = step_of({rows.a[i], -s * rows.d[i], c * rows.d[i]}, rows.alpha[i], 0);
  }
  chain.end = end;
  return chain;
}

inline ArmRows random_rows(Random& random) {
  ArmRows rows;
  for (std::size_t i = 0; i < 6; ++i) {
    rows.a[i] = random.sign() * random.uniform(0.1, 1);
    rows.d[i] = random.sign() * random.uniform(0.1, 1);
    rows.alpha[i] = random.uniform(-M_PI, M_PI);
  }
  return rows;
}

/// Twists 0, +-90, 0, +-90, +-90, +-90 deg: axes 2 and 3 parallel, the rest at right angles.
inline ArmRows elbow_rows(Random& random) {
  ArmRows rows = random_rows(random);
  const auto right = [&] { return random.sign() * M_PI / 2; };
  rows.alpha = {0, right(), 0, right(), right(), right()};
  return rows;
}

struct Family {
  std::string name;
  ArmRows (*rows)(Random&);
};

inline ArmRows with_misfit(Random& random, double misfit) {  // a spherical wrist that is not quite one
  ArmRows rows = elbow_rows(random);
  rows.a[4] = misfit * random.uniform(0.5, 1);
  rows.a[5] = -misfit * random.uniform(0.5, 1);
  rows.d[4] = misfit * random.uniform(0.5, 1);
  rows.d[1] = rows.d[2] = 0;
  return rows;
}

inline std::vector<Family> degenerate_families() {
  return {
      {"all twists right angles", [](Random& r) { ArmRows x = random_rows(r); for (double& t : x.alpha) t = r.sign() * M_PI / 2; return x; }},
      {"2 parallel to 3, no wrist axes meet", [](Random& r) { return elbow_rows(r); }},
      {"2 parallel to 3, 4 and 5 meet, 6 offset", [](Random& r) { ArmRows x = elbow_rows(r); x.a[4] = 0; return x; }},
      {"2 parallel to 3, 5 and 6 meet", [](Random& r) { ArmRows x = elbow_rows(r); x.a[5] = 0; return x; }},
      {"2 parallel to 3, 4-5 and 5-6 meet in two points", [](Random& r) { ArmRows x = elbow_rows(r); x.a[4] = x.a[5] = x.d[1] = x.d[2] = 0; x.d[4] *= 0.2; return x; }},
      {"the same, oblique wrist", [](Random& r) { ArmRows x = elbow_rows(r); x.a[4] = x.a[5] = 0; x.alpha[4] = r.uniform(0.5, 1.2); x.alpha[5] = r.uniform(-1.2, -0.5); return x; }},
      {"1, 2, 3 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[1] = x.alpha[2] = 0; return x; }},
      {"4, 5, 6 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[4] = x.alpha[5] = 0; return x; }},
      {"1-2 and 4-5 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[1] = x.alpha[4] = 0; return x; }},
      {"2-3 and 4-5 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[2] = x.alpha[4] = 0; return x; }},
      {"2-3 and 5-6 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[2] = x.alpha[5] = 0; return x; }},
      {"1-2, 3-4 and 5-6 parallel", [](Random& r) { ArmRows x = random_rows(r); x.alpha[1] = x.alpha[3] = x.alpha[5] = 0; return x; }},
      {"2-3 and 4-5 parallel, right angles", [](Random& r) { ArmRows x = elbow_rows(r); x.alpha[4] = 0; return x; }},
      {"2-3 and 5-6 parallel, right angles", [](Random& r) { ArmRows x = elbow_rows(r); x.alpha[5] = 0; return x; }},
      {"1 and 2 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[1] = 0; return x; }},
      {"2 and 3 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[2] = 0; return x; }},
      {"3 and 4 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[3] = 0; return x; }},
      {"4 and 5 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[4] = 0; return x; }},
      {"5 and 6 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[5] = 0; return x; }},
      {"1-2, 3-4 and 5-6 meet", [](Random& r) { ArmRows x = random_rows(r); x.a[1] = x.a[3] = x.a[5] = 0; return x; }},
      {"all neighbours meet", [](Random& r) { ArmRows x = random_rows(r); x.a = {}; return x; }},
      {"all neighbours meet at right angles", [](Random& r) { ArmRows x = random_rows(r); x.a = {}; for (double& t : x.alpha) t = r.sign() * M_PI / 2; return x; }},
      {"2, 3, 4 meet in a point", [](Random& r) { ArmRows x = random_rows(r); x.a[2] = x.a[3] = x.d[2] = 0; return x; }},
      {"3, 4, 5 meet in a point", [](Random& r) { ArmRows x = random_rows(r); x.a[3] = x.a[4] = x.d[3] = 0; return x; }},
      {"spherical wrist, 5 mm misfit", [](Random& r) { return with_misfit(r, 5e-3); }},
      {"spherical wrist, 1 mm misfit", [](Random& r) { return with_misfit(r, 1e-3); }},
      {"spherical wrist, 0.1 mm misfit", [](Random& r) { return with_misfit(r, 1e-4); }},
      {"2, 3, 4 parallel but for 0.1 mrad", [](Random& r) { ArmRows x = elbow_rows(r); x.alpha[2] = 1e-4 * r.uniform(0.5, 1); x.alpha[3] = -1e-4 * r.uniform(0.5, 1); x.a[1] = x.a[4] = x.a[5] = 0; return x; }},
      {"2, 3 parallel but for 0.1 mrad, offset wrist", [](Random& r) { ArmRows x = elbow_rows(r); x.alpha[2] = 1e-4 * r.uniform(0.5, 1); x.a[4] = 0; return x; }},
  };
}

inline Pose random_tool(Random& random) { return random.pose(0.3); }

}  // namespace armwright::testing
