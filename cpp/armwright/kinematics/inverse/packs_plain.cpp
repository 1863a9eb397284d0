#include "armwright/kinematics/inverse/packs.hpp"

namespace armwright {

void solve_in_plain_fours(const PackBatch& batch) { solve_in_packs<Lanes>(batch); }

}  // namespace armwright
