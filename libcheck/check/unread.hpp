// Elements and attributes of a document that no rule in force reads.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "check/bound_rule.hpp"
#include "raceward/finding.hpp"

namespace raceward::checking {

/// What a figure reads, itself and through the figures that it reads: "raceway@type", "support". Sorted, each
/// once.
std::vector<std::string_view> reads_of(figure::Id id);
/// The figures that a figure says it reads, directly or through others, itself included. Sorted.
std::vector<figure::Id> figures_read_by(figure::Id id);

/// What is read of documents: by rules in force that can be asked, and by conditions of the law.
class WordsRead {
 public:
  /// They and the law must outlive it.
  explicit WordsRead(const std::vector<BoundRule>& rules, const Law* law = nullptr);

  [[nodiscard]] bool element(std::string_view name) const { return read_.find(name) != read_.end(); }
  [[nodiscard]] bool attribute(std::string_view element, std::string_view name) const;
  /// The fact of this name that the law declares; null where it does not. That it is read,
  /// attribute("stated", name) tells.
  [[nodiscard]] const DeclaredFact* declared(std::string_view fact) const;
  /// ", did you mean ...": declared facts of a similar name.
  [[nodiscard]] std::string like(std::string_view fact) const;
  /// The words of attests that conditions of the law ask for. Figures' are in figure/attested.hpp.
  [[nodiscard]] const std::set<std::string, std::less<>>& attested() const { return attested_; }
  /// A rule of the law's own looks at attests itself, whatever their words.
  [[nodiscard]] bool every_attest() const { return every_attest_; }

 private:
  const Law* law_;
  using Attributes = std::set<std::string, std::less<>>;
  void add(std::string_view word);
  void add(const Condition& condition);

  std::map<std::string, Attributes, std::less<>> read_;  // by element
  Attributes attested_;
  bool every_attest_ = false;
};

/// One entry for each element or attribute that the document uses and that nothing reads, for each fact that
/// is not declared, and for each attest that nothing asks for.
std::vector<NotChecked> unread(const installation::Model& model, const WordsRead& read);

}  // namespace raceward::checking
