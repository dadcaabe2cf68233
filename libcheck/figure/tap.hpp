// Conductors that are tapped from larger ones of their circuit.
#pragma once

#include <string>
#include <unordered_map>

#include "figure/figure.hpp"

namespace raceward::figure {

/// What a tap has to carry: at least so much, and at most where a load that may be continuous is.
struct TapLoad {
  std::int64_t least = 0, most = 0;
  MissingId missing = 0;
};

/// What was asked of the conductors of one circuit while somebody goes through its runs.
struct AskedTaps {
  std::unordered_map<Index, Value> taps;
  std::unordered_map<Index, TapLoad> loads;
};

/// 1 where a conductor is a tap as branch circuits may have them: it is smaller than those that it is spliced
/// to, and short; 0 where it is none; missing where it may be one.
Value branch_tap(Evaluation& e, Index circuit, Index conductor);
/// The same, each conductor once.
Value branch_tap(Evaluation& e, Index circuit, Index conductor, AskedTaps& asked);

/// Whether what a conductor carries is a part of what its circuit does: 1; 0 where it is a tap that carries
/// what its outlet takes; missing where it may be one, and the load of the circuit makes that matter. 1 also
/// where it may be one and carries the load: whoever holds the overcurrent device against it asks branch_tap.
Value part_of_circuit(Evaluation& e, Index circuit, Index conductor, std::int64_t carries, AskedTaps& asked);

/// Missing where a smaller conductor of a feeder may be a tap of it, which carries a part of its load and has
/// rules of its own.
MissingId may_be_feeder_tap(Evaluation& e, Index circuit, Index conductor);

/// That somebody attests that taps of the circuit are as the law lets them be is missing.
Value lacks_tap_attest(Evaluation& e, Index circuit, std::string why);

/// Whether the whole circuit is a tap as taps may be: 1 where none of its runs visits the panel of its
/// overcurrent device, and it is a feeder that is short and large enough, or somebody attests it; missing
/// where neither is known; 0 where it begins there, or the device at its end lets it carry too much.
Value tap_as_a_whole(Evaluation& e, Index circuit);

}  // namespace raceward::figure
