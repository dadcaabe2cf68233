// Figures of drawn installations under the shipped edition of 2023, as texts.
#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "figure/figure.hpp"
#include "raceward/engine.hpp"
#include "support/sketch.hpp"

namespace raceward::test {

inline std::shared_ptr<const Law> law_of_2023() {
  const LoadedLaw loaded = load_ruleset("nec-2023");
  for (const Problem& problem : loaded.problems) ADD_FAILURE() << text_of(problem);
  return loaded.law;
}

template <class Q>
Q parsed(const Parsed<Q>& p) {
  if (!p) ADD_FAILURE() << p.error().what;
  return p ? *p : Q{};
}
inline Length length(std::string_view text) { return parsed(parse_length(text)); }
inline Angle angle(std::string_view text) { return parsed(parse_angle(text)); }

/// A drawing whose raceways are 1/2 EMT where the test does not say otherwise, and its figures.
class Figured : public Sketch {
 public:
  explicit Figured(std::string_view drawing) : Sketch(drawing) {
    for (installation::Raceway& r : in.model.raceways) {
      r.type = installation::RacewayType::emt;
      r.trade_size = installation::TradeSize::s1_2;
    }
  }

  installation::Raceway& of(std::string_view id) { return in.model.raceways[raceway(id)]; }

  /// Appends a piece to the course of the raceway drawn last that has one, or of a new one: pieces of one
  /// raceway are contiguous.
  installation::Piece& piece(std::string_view id, installation::PieceKind kind) {
    auto& all = in.model.pieces;
    installation::Range& range = of(id).pieces;
    if (range.count == 0) range.first = static_cast<installation::Index>(all.size());
    EXPECT_EQ(range.end(), all.size()) << "pieces of " << id << " are not in one stretch";
    ++range.count;
    all.emplace_back().kind = kind;
    return all.back();
  }
  void straight(std::string_view id, std::string_view long_) {
    piece(id, installation::PieceKind::straight).length = length(long_);
  }
  installation::Piece& bend(std::string_view id, std::string_view turn, std::string_view radius,
                            installation::Bender bender = installation::Bender::one_shot) {
    installation::Piece& p = piece(id, installation::PieceKind::bend);
    if (!turn.empty()) p.angle = angle(turn);
    if (!radius.empty()) p.radius = length(radius);
    p.bender = bender;
    return p;
  }
  void point(std::string_view id, std::string_view x, std::string_view y, std::string_view radius = {}) {
    auto& all = in.model.points;
    installation::Range& range = of(id).points;
    if (range.count == 0) range.first = static_cast<installation::Index>(all.size());
    ++range.count;
    installation::Point& p = all.emplace_back();
    p.x = length(x);
    p.y = length(y);
    if (!radius.empty()) p.radius = length(radius);
  }

  /// Says what the conductor of a run is: so many, of a size and an insulation.
  void laid(installation::Index run, std::uint16_t count, installation::ConductorSize size,
            installation::Insulation insulation) {
    installation::ConductorKind kind;
    kind.size = size;
    kind.construction = installation::Construction::stranded;
    kind.insulations = std::uint64_t{1} << (static_cast<unsigned>(insulation) - 1);
    laid(run, count, kind);
  }
  void laid(installation::Index run, std::uint16_t count, const installation::ConductorKind& kind) {
    auto& c = in.model.conductors[in.model.run_conductors[in.model.runs[run].conductors.first]];
    c.count = count;
    c.kind = static_cast<installation::Index>(in.model.conductor_kinds.size());
    in.model.conductor_kinds.push_back(kind);
  }

  /// The figure as people read it, or "missing: a, b" with the names of the facts.
  std::string show(figure::Id id, Subject subject) {
    if (!law_) law_ = law_of_2023();
    if (!evaluation_) {
      derive();
      evaluation_.emplace(in, *law_);
    }
    const figure::Value value = evaluation_->get(id, subject);
    if (value) return text_of({value.count, figure::info(id).unit});
    std::string out = "missing:";
    for (const figure::Fact* fact : evaluation_->missing.facts(value.missing))
      out.append(" ").append(fact->name);
    return out;
  }
  std::string show(figure::Id id, std::string_view raceway_id) {
    return show(id, {SubjectKind::raceway, raceway(raceway_id)});
  }
  std::string section(figure::Id id, std::uint32_t number = 0) {
    return show(id, {SubjectKind::pull_section, number});
  }
  /// Why the figure is missing, in the words of its first fact.
  std::string why(figure::Id id, std::string_view raceway_id) {
    show(id, raceway_id);
    const figure::Value value = evaluation_->get(id, {SubjectKind::raceway, raceway(raceway_id)});
    return value ? "" : evaluation_->missing.facts(value.missing).front()->why;
  }
  /// The lines of its working.
  std::vector<std::string> working(figure::Id id, std::string_view raceway_id) {
    show(id, raceway_id);
    figure::Working working;
    evaluation_->explain(id, {SubjectKind::raceway, raceway(raceway_id)}, working);
    return working.lines;
  }

 private:
  std::shared_ptr<const Law> law_;
  std::optional<figure::Evaluation> evaluation_;
};

}  // namespace raceward::test
