// A ruleset in memory, for tests: a good one that each test spoils in one place.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ruleset/ruleset.hpp"

namespace raceward::ruleset::test {

// Invented law, so that no number here can be taken for a code's.
inline constexpr std::string_view good_layer = R"(<?xml version="1.0"?>
<ruleset xmlns="urn:raceward:ruleset:1" id="marrow-2020" title="Marrow County rules" effective-from="2024-02-29">
  <document id="marrow" cited-as="MC 7" title="Wiring in Marrow County" publisher="Marrow County" edition="2020"/>
  <document id="habit" title="what people do"/>
  <source id="B1" title="Book one"/>
  <source id="B2" title="Book two"/>
  <uses rule="tightness" force="advised">
    <cite section="7.1" basis="read" source="B1 B2" note="Read twice."/>
    <cite document="habit" basis="common-practice"/>
  </uses>
  <uses rule="gap" force="off"/>
  <parameter name="reach" value="3ft 6in" section="7.2" basis="read" source="B1"/>
  <parameter name="share" value="40%" section="7.3" basis="memory"/>
  <parameter name="finest" text="9 AWG" section="7.4" basis="derived" source="B2"/>
  <table name="widths" file="t/widths.csv"/>
</ruleset>
)";

inline constexpr std::string_view good_table = R"(# Widths of pipes, invented.
# table: widths
# cites: marrow, Table 7
# basis: read
# source: B1
# note: Read in the first printing.
# remark: nothing: of, importance
kind [key],size [key],width [in],weight [number],word [text],section,basis,source,note
tin,1/2,0.622,3,plain,,,,
tin,3/4,3-1/2,,"one, two \"three\"",Table 7 row 2,memory,,
lead,1/2,1.25,0.5,,,derived,B2,Worked out.
)";

// A layer over it that changes one thing of each kind.
inline constexpr std::string_view good_amendment = R"(<?xml version="1.0"?>
<ruleset xmlns="urn:raceward:ruleset:1" id="hill-2022" title="Hill town rules" base="../m/layer.xml">
  <document id="marrow" change="replace" cited-as="MC 7" title="Wiring in Marrow County" edition="2022"/>
  <document id="hill" cited-as="HT" title="Hill town ordinance" edition="5"/>
  <source id="H1" title="Hill gazette"/>
  <renumbered from="7.2" to="8.2" basis="read" source="H1" note="Page 3."/>
  <renumbered from="Table 7" to="Table 9" basis="memory"/>
  <uses rule="tightness" force="required">
    <cite section="7.1" basis="read" source="B1"/>
  </uses>
  <uses rule="slack" change="new">
    <cite document="hill" section="1" basis="read" source="H1"/>
  </uses>
  <parameter name="share" value="30%" document="hill" section="2" basis="read" source="H1"/>
  <parameter name="depth" value="2ft" change="new" document="hill" section="4" basis="read" source="H1"/>
  <table name="widths" file="t/widths.csv"/>
</ruleset>
)";

inline constexpr std::string_view good_amending_table = R"(# table: widths
# cites: hill, 3
# basis: read
# source: H1
kind [key],size [key],weight [number],change
tin,1/2,4,
tin,3/4,,remove
zinc,1/2,7,new
)";

class Files {
 public:
  Files()
      : files_{{"m/layer.xml", std::string(good_layer)},
               {"m/t/widths.csv", std::string(good_table)},
               {"n/over.xml", std::string(good_amendment)},
               {"n/t/widths.csv", std::string(good_amending_table)}} {}
  /// The same, of which another layer is loaded.
  explicit Files(std::string_view top) : Files() { top_ = top; }

  static constexpr std::string_view layer = "m/layer.xml";
  static constexpr std::string_view over = "n/over.xml";
  static constexpr std::string_view amending_table = "n/t/widths.csv";
  static constexpr std::string_view table = "m/t/widths.csv";

  std::string& operator[](std::string_view path) { return files_[std::string(path)]; }

  /// Replaces the one place where `from` stands in a file.
  Files& with(std::string_view path, std::string_view from, std::string_view to) {
    std::string& text = files_.at(std::string(path));
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << "no " << from << " in " << path;
    if (at != std::string::npos) text.replace(at, from.size(), to);
    return *this;
  }

  [[nodiscard]] LoadedLaw load() const {
    const ReadFile read = [this](const std::string& path) {
      const auto found = files_.find(std::filesystem::path(path).lexically_normal().generic_string());
      return found == files_.end() ? std::nullopt : std::optional(found->second);
    };
    return load_layer(top_, {read}, {read, "shipped/", {{"shipped-2020", "m/layer.xml"}}});
  }

  /// "line:column message" of every problem, the file name before it where it is not the layer's.
  [[nodiscard]] std::vector<std::string> problems() const {
    const LoadedLaw loaded = load();
    EXPECT_EQ(loaded.law == nullptr, !loaded.problems.empty()) << "a law or problems, never both";
    std::vector<std::string> out;
    for (const Problem& p : loaded.problems) {
      out.push_back((p.place.file == top_ ? "" : p.place.file + ":") + std::to_string(p.place.line) + ":" +
                    std::to_string(p.place.column) + " " + p.message);
    }
    return out;
  }

  [[nodiscard]] const std::string& top() const { return top_; }

 private:
  std::string top_{layer};
  std::map<std::string, std::string> files_;
};

/// Spoils one place of a file and expects one problem: `to` says with a ^ where, `message` how it begins.
inline void expect_fault(std::string_view path, std::string_view from, std::string_view to,
                         std::string_view message, Files files = Files()) {
  files.with(path, from, to);
  std::string& text = files[path];
  const auto mark = text.find('^');
  ASSERT_NE(mark, std::string::npos);
  text.erase(mark, 1);
  const std::string before = text.substr(0, mark);
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const auto column = mark - (before.rfind('\n') + 1) + 1;  // npos + 1 is 0
  const std::string place = (path == files.top() ? "" : std::string(path) + ":") + std::to_string(line) +
                            ":" + std::to_string(column) + " ";
  const std::vector<std::string> problems = files.problems();
  ASSERT_EQ(problems.size(), 1u) << ::testing::PrintToString(problems);
  EXPECT_EQ(problems.front().substr(0, place.size() + message.size()), place + std::string(message))
      << problems.front();
}

struct Fault {
  const char* name;
  std::string_view from, to, message;
};
inline void PrintTo(const Fault& fault, std::ostream* out) { *out << fault.name; }

}  // namespace raceward::ruleset::test
