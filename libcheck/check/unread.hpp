// Elements and attributes of a document that no rule in force reads.
#pragma once

#include <vector>

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// What a figure reads, itself and through the figures that it reads: "raceway@type", "support". Sorted, each
/// once.
std::vector<std::string_view> reads_of(figure::Id id);
/// The figures that a figure says it reads, directly or through others, itself included. Sorted.
std::vector<figure::Id> figures_read_by(figure::Id id);

/// One entry for each element or attribute that the document uses and that no bound rule in force, nor any
/// condition of the law, reads.
std::vector<NotChecked> unread(const installation::Model& model, const std::vector<BoundRule>& rules,
                               const Law* law = nullptr);

}  // namespace raceward::checking
