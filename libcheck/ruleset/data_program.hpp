// A data rule made ready to be asked, and asked.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "figure/figure.hpp"
#include "raceward/rule.hpp"
#include "ruleset/xpath.hpp"

namespace raceward::ruleset {

/// Which of a rule's expressions is wrong, where in it, and how.
struct DataRuleFault {
  const std::string* text = nullptr;  ///< the expression or path within the rule
  ExpressionFault fault;
};

/// What is wrong with the expressions of a rule: every one that is.
std::vector<DataRuleFault> faults_of(const DataRule& rule, const Names& names);

/// The names that a rule about this kind may use under a law.
Names names_for(const DataRule& rule, const Law& law, const facts::Shapes& shapes);

/// Safe to use from several threads at once. The rule and the law must outlive it.
class DataProgram {
 public:
  /// Null, and why, where an expression is wrong under this law.
  static std::shared_ptr<const DataProgram> make(const DataRule& rule, const Law& law,
                                                 std::shared_ptr<const facts::Shapes> shapes,
                                                 std::string& fault);
  ~DataProgram();

  /// It as a rule: texts and lists, without a function that judges.
  [[nodiscard]] const Rule& rule() const { return rule_; }
  [[nodiscard]] const Reads& reads() const { return reads_; }
  /// Of the assertion that has this message.
  [[nodiscard]] std::string_view cure(std::uint32_t message) const { return source_->asserts[message].cure; }
  /// What of documents it reads itself, besides figures: "raceway@type", "support", and "stated@storeys" of
  /// facts that the law declares. Sorted, each once.
  [[nodiscard]] std::vector<std::string> words_read() const;

 private:
  friend class DataAsking;
  struct Compiled;
  DataProgram();

  const DataRule* source_ = nullptr;
  Rule rule_;
  std::vector<std::string_view> figures_, parameter_names_, messages_, reasons_;
  std::vector<const Parameter*> parameters_;
  std::shared_ptr<const facts::Shapes> shapes_;
  Reads reads_;
  std::unique_ptr<Compiled> compiled_;
};

/// One data rule on one thread.
class DataAsking {
 public:
  DataAsking(figure::Evaluation& e, const DataProgram& program);
  ~DataAsking();
  DataAsking(const DataAsking&) = delete;
  DataAsking& operator=(const DataAsking&) = delete;

  /// Writes the facts of these subjects, of which answer() is asked by position.
  void prepare(std::span<const Subject> subjects);
  /// With `working`, what was read is noted there.
  Verdict answer(std::size_t position, figure::Working* working);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace raceward::ruleset
