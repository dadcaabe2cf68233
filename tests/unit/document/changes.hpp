// Documents that differ from a good one by a single change each, with who must reject them.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <pugixml.hpp>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "document/vocabulary.hpp"

namespace raceward::document::test {

enum class Rejects : char { nobody, both, loader };

struct Changed {
  std::string what, text;
  Rejects rejects;
};

/// Changes a document, notes what comes of it, and takes the change back.
class Changes {
 public:
  /// Changes that only the loader rejects although others like them are seen by both, and why.
  using Exceptions = std::map<std::string_view, std::string_view>;

  Changes(const std::string& text, const Exceptions& only_the_loader) : only_the_loader_(only_the_loader) {
    EXPECT_TRUE(file_.load_string(text.c_str()));
  }

  /// Calls `change(element)` for each element of the vocabulary, at the first in the document.
  template <class Change>
  void each_element(const Change& change) {
    for (std::size_t e = 0; e < element_count; ++e) {
      const ElementRow& row = row_of(static_cast<Element>(e));
      node_ = file_.select_node(fmt::format("//{}", row.name).c_str()).node();
      name_ = row.name;
      EXPECT_TRUE(node_) << row.name;
      change(static_cast<Element>(e));
    }
  }

  /// Calls `change(element, row)` for each attribute of the vocabulary, at the first in the document.
  template <class Change>
  void each_attribute(const Change& change) {
    for (std::size_t e = 0; e < element_count; ++e) {
      const ElementRow& row = row_of(static_cast<Element>(e));
      for (std::size_t i = 0; i < row.rows.size(); ++i) {
        const std::string_view attribute = row.attributes.terms[i].spelling;
        name_ = fmt::format("{}@{}", row.name, attribute);
        const auto found = file_.select_node(fmt::format("//{}/@{}", row.name, attribute).c_str());
        node_ = found.parent();
        attribute_ = found.attribute();
        EXPECT_TRUE(attribute_) << name_;
        met_.clear();
        change(static_cast<Element>(e), row.rows[i]);
      }
    }
  }

  [[nodiscard]] pugi::xml_node node() const { return node_; }
  [[nodiscard]] pugi::xml_attribute attribute() const { return attribute_; }

  /// The document as it stands now.
  void add(std::string_view how, Rejects rejects) {
    std::string what = fmt::format("{} {}", name_, how);
    if (const auto found = only_the_loader_.find(what); found != only_the_loader_.end()) {
      rejects = Rejects::loader;
      met_exceptions_.insert(found->first);
    }
    std::ostringstream text;
    file_.save(text, "", pugi::format_raw);
    made_.push_back({std::move(what), text.str(), rejects});
  }

  /// One value of the attribute. Attributes of one form have one type in the schema: all values are tried for
  /// the first attribute of a form (`all`), for the others one of each verdict.
  void value(bool all, const std::string& value, Rejects rejects, std::string_view called = {}) {
    if (!met_.insert(rejects).second && !all) return;
    const std::string before = attribute_.value();
    attribute_.set_value(value.c_str());
    add(called.empty() ? fmt::format("= '{}'", value) : called, rejects);
    attribute_.set_value(before.c_str());
  }

  [[nodiscard]] const std::vector<Changed>& made() const { return made_; }
  /// Exceptions that none of the changes made was.
  [[nodiscard]] std::size_t unmet_exceptions() const {
    return only_the_loader_.size() - met_exceptions_.size();
  }

 private:
  const Exceptions& only_the_loader_;
  pugi::xml_document file_;
  pugi::xml_node node_;
  pugi::xml_attribute attribute_;
  std::string name_;
  std::set<Rejects> met_;
  std::vector<Changed> made_;
  std::set<std::string_view> met_exceptions_;
};

}  // namespace raceward::document::test
