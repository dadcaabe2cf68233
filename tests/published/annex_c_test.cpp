// Counts of equal conductors in raceways (NFPA 70, Annex C), from a document to the verdict: as many as the
// table says comply, and one more violates. Sources: data/annex-c/sources.md.
//
// One installation a table: for each cell two boxes joined to the panel by a raceway of the cell's type and
// size, longer than the short pieces that may be filled more.
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <map>
#include <set>
#include <string>

#include "oracle_csv.hpp"
#include "support/check_text.hpp"

namespace raceward::published {
namespace {

/// Cells where the table and the rule that it follows from differ, and why.
struct Quirk {
  std::string_view raceway, trade_size, group, size, why;
};
constexpr Quirk quirks[] = {
    {"IMC", "2", "THHN", "10",
     "the table says 68 (A1); 0.4 x the circle of 2.150 in / 0.0211 in2 is 68.83, of which 0.8 and more "
     "count as one; "
     "with the wire's area from its diameter it is 68.75, so the table was probably made from a less rounded "
     "area"},
};

bool expected(const Row& r) {
  return std::any_of(std::begin(quirks), std::end(quirks), [&](const Quirk& q) {
    return q.raceway == r.at("raceway") && q.trade_size == r.at("trade_size") &&
           q.group == r.at("insulation_group") && q.size == r.at("size_awg_kcmil");
  });
}

std::string insulation_of(const std::string& group) {
  static const std::map<std::string, std::string> words = {
      {"RHH_COV", "RHH-COV"}, {"RHH_NOCOV", "RHH"}, {"RHH_NOCOV+THHW_THW_old", "RHH"},
      {"TW", "TW"},           {"TW_THW", "THW"},    {"TW_THW+RHH_NOCOV", "THW"},
      {"THHN", "THHN"},       {"XHHW", "XHHW"}};
  const auto at = words.find(group);
  EXPECT_NE(at, words.end()) << group;
  return at == words.end() ? "" : at->second;
}

std::string size_of(const std::string& printed) {
  const bool kcmil = printed.size() >= 3 && printed.find('/') == std::string::npos;
  return printed + (kcmil ? " kcmil" : " AWG");
}

/// A raceway with so many conductors of the cell, which are not compact: those have tables of their own.
/// Nothing for none: there is nothing to judge then.
std::string laid(const Row& r, const std::string& id, int count) {
  if (count == 0) return {};
  std::string out = "<box id=\"B" + id + "\" kind=\"square\"/>\n<raceway id=\"R" + id + "\" type=\"" +
                    r.at("raceway") + "\" trade-size=\"" + r.at("trade_size") + "\" from=\"P1\" to=\"B" + id +
                    "\"><straight length=\"10ft\"/></raceway>\n<wiring id=\"W" + id + "\">";
  // A document lists at most a thousand conductors in one element.
  for (int left = count, part = 0; left > 0; left -= 1000, ++part) {
    out += "<conductor id=\"s" + std::to_string(part) + "\" role=\"spare\" size=\"" +
           size_of(r.at("size_awg_kcmil")) + "\" insulation=\"" + insulation_of(r.at("insulation_group")) +
           "\" construction=\"stranded\" count=\"" + std::to_string(std::min(left, 1000)) + "\"/>";
  }
  return out + "<run><stop place=\"P1\"/><stop place=\"B" + id + "\"/></run></wiring>\n";
}

struct Agreement {
  int cells = 0, agree = 0, quirks = 0;
};

void compare(const std::string& name, Agreement& out) {
  const std::vector<Row> rows = rows_of("annex-c/" + name);
  std::string elements;
  std::uint64_t raceways = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const int most = std::stoi(rows[i].at("max_count"));
    elements += laid(rows[i], std::to_string(i) + "-most", most);
    elements += laid(rows[i], std::to_string(i) + "-more", most + 1);
    raceways += most == 0 ? 1 : 2;
  }
  const Report report = test::check_text(test::installation(elements));
  const LedgerLine ledger = test::ledger(report, "raceway-fill");
  EXPECT_EQ(ledger.complies + ledger.violates, raceways) << name << ": some raceways were not judged";
  EXPECT_EQ(ledger.undetermined, 0U) << name;
  std::set<std::string> too_full;
  for (const Finding& f : report.findings) {
    if (f.rule == "raceway-fill" && f.kind == Finding::Kind::violates) too_full.insert(f.subject);
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Row& r = rows[i];
    const bool most_is_fine = too_full.count("R" + std::to_string(i) + "-most") == 0;
    const bool more_is_not = too_full.count("R" + std::to_string(i) + "-more") == 1;
    const bool agrees = most_is_fine && more_is_not;
    ++out.cells;
    out.agree += agrees ? 1 : 0;
    out.quirks += expected(r) ? 1 : 0;
    EXPECT_EQ(agrees, !expected(r)) << r.at("raceway") << ' ' << r.at("trade_size") << ", "
                                    << r.at("max_count") << " x " << r.at("size_awg_kcmil") << ' '
                                    << r.at("insulation_group") << " (" << r.at("source")
                                    << "): as many as the table says "
                                    << (most_is_fine ? "comply" : "violate") << ", one more "
                                    << (more_is_not ? "violates" : "complies");
  }
}

TEST(AnnexC, EveryCountThatWasReadFromTheDocumentToTheVerdict) {
  Agreement all;
  for (const char* name :
       {"emt.csv", "ent.csv", "fmc.csv", "imc.csv", "lfmc.csv", "pvc40.csv", "pvc80.csv"}) {
    compare(name, all);
  }
  std::cout << "Annex C: " << all.agree << " of " << all.cells << " agree\n";
  for (const Quirk& q : quirks) {
    std::cout << "  differs: " << q.raceway << ' ' << q.trade_size << ", " << q.size << ' ' << q.group << ": "
              << q.why << '\n';
  }
  EXPECT_EQ(all.cells, 963) << "rows of data/annex-c";
  EXPECT_EQ(all.quirks, static_cast<int>(std::size(quirks))) << "each names a row";
}

}  // namespace
}  // namespace raceward::published
