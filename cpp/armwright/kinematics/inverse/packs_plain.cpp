#include "armwright/kinematics/inverse/find_turns.hpp"

namespace armwright {

void solve_in_plain_fours(const PackBatch& batch) { solve_in_packs<Lanes>(batch); }
void find_in_plain_fours(const TurnBatch& batch, FoundTurns& to) { find_in_packs<Lanes>(batch, to); }

}  // namespace armwright
