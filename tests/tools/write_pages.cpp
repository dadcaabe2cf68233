// Writes the pages of docs/rules, and docs/editions.md, from what the rules, the figures and the rulesets say
// of themselves, and from the fixtures as the engine judges them: write_pages ROOT [--compare]
//
// With --compare nothing is written, and the exit status tells whether the pages are as they would be
// written.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <set>
#include <stdexcept>
#include <vector>

#include "check/subjects.hpp"
#include "check/wording.hpp"
#include "figure/figure.hpp"
#include "raceward/engine.hpp"
#include "tools/editions.hpp"
#include "tools/layers.hpp"

namespace {

using namespace raceward;
namespace fs = std::filesystem;
using std::string;
using std::string_view;

constexpr string_view not_written =
    "<!-- Written by the build target renew-pages; change the rule, its fixtures or the ruleset instead. "
    "-->\n";

/// A fixture of a rule, judged under the ruleset that it adopts.
struct Example {
  string name;   ///< "violates-just-over.xml"
  string about;  ///< its first comment
  Loaded loaded;
  Report report;
};

struct Described {
  const Rule* rule = nullptr;
  std::vector<Example> examples;  ///< sorted by name
};

/// What a ruleset gives a rule: of its parameters and tables those that its examples need.
struct Given {
  std::shared_ptr<const Law> law;
  std::map<const Rule*, std::vector<const Parameter*>> parameters;
  std::map<const Rule*, std::vector<const Table*>> tables;
};

string bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Text that Markdown shows as it is.
string plain(string_view text) {
  string out;
  for (const char c : text) {
    if (string_view("<*_|`").find(c) != string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

string sentence(string text) {
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

/// Each once, in their order.
string joined(const std::vector<string>& all, string_view between) {
  string out;
  std::set<string_view> told;
  for (const string& one : all) {
    if (!told.insert(one).second) continue;
    if (!out.empty()) out += between;
    out += one;
  }
  return out;
}

/// The first comment of a document, which tells what it is about.
string about(string_view xml) {
  const std::size_t from = xml.find("<!--"), to = xml.find("-->");
  if (from == string_view::npos || to == string_view::npos || to < from + 4) return {};
  string out;
  for (const char c : xml.substr(from + 4, to - from - 4)) {
    const bool blank = c == ' ' || c == '\n';
    if (!blank) {
      out += c;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

/// Nothing where a fixture cannot be judged; the fixtures' own test says why.
std::vector<Example> examples_of(const fs::path& root, const Rule& rule) {
  std::vector<Example> out;
  for (const auto& entry : fs::directory_iterator(root / "fixtures/rules" / rule.id)) {
    Example one{entry.path().filename().string(), about(bytes_of(entry.path())),
                load_file(entry.path().string()), Report{}};
    if (!one.loaded.installation) continue;
    const LoadedLaw law = load_shipped_ruleset(adopted_ruleset(*one.loaded.installation));
    if (!law.law) continue;
    one.report = check(*one.loaded.installation, *law.law, {});
    out.push_back(std::move(one));
  }
  std::sort(out.begin(), out.end(), [](const Example& a, const Example& b) { return a.name < b.name; });
  return out;
}

/// All that the rule's figures say of an example under a law.
string said(const Rule& rule, const Example& example, const Law& law) {
  const Installation& in = *example.loaded.installation;
  figure::Evaluation e(in, law);
  string out;
  for (const Subject subject : checking::subjects_of(in, rule.subject)) {
    for (const string_view name : rule.figures) {
      figure::Working working;
      const figure::Value value = e.explain(figure::find(name)->id, subject, working);
      out += fmt::format("{} {}\n", value.missing == 0, value.missing == 0 ? value.count : 0);
      for (const figure::Fact* fact : e.missing.facts(value.missing)) out += string(fact->name) + fact->why;
      for (const string& line : working.lines) out += line;
    }
  }
  return out;
}

string said(const Described& d, const Law& law) {
  string out;
  for (const Example& example : d.examples) out += said(*d.rule, example, law);
  return out;
}

/// Takes each parameter and table away in turn, and sees which rules say something else then.
Given given_by(std::shared_ptr<const Law> law, const std::vector<Described>& rules) {
  Given out{std::move(law), {}, {}};
  std::map<const Rule*, string> whole;
  for (const Described& d : rules) whole[d.rule] = said(d, *out.law);
  for (std::size_t i = 0; i < out.law->parameters.size(); ++i) {
    const Parameter& taken = out.law->parameters[i];
    Law less = *out.law;
    less.parameters.erase(less.parameters.begin() + static_cast<std::ptrdiff_t>(i));
    for (const Described& d : rules) {
      const auto& own = d.rule->parameters;
      const bool reads = std::find(own.begin(), own.end(), taken.name) != own.end();
      if (reads || said(d, less) != whole[d.rule]) out.parameters[d.rule].push_back(&taken);
    }
  }
  for (std::size_t i = 0; i < out.law->tables.size(); ++i) {
    Law less = *out.law;
    less.tables.erase(less.tables.begin() + static_cast<std::ptrdiff_t>(i));
    for (const Described& d : rules) {
      if (said(d, less) != whole[d.rule]) out.tables[d.rule].push_back(&out.law->tables[i]);
    }
  }
  return out;
}

string title_of(const Citation& cite) {
  return cite.edition.empty() ? cite.document : fmt::format("{}-{}", cite.document, cite.edition);
}

string cited(const Citation& cite) { return fmt::format("{} {}", title_of(cite), cite.section); }

/// "read: NEMA 97; Section number from memory."
string basis_of(const Citation& cite) {
  string out(name_of(cite.basis));
  if (!cite.source.empty()) out += ": " + cite.source;
  if (!cite.note.empty()) out += "; " + cite.note;
  return out;
}

string row_of_table(const Law& law, const Table& table) {
  std::vector<string> documents, sections, counts;
  std::map<Basis, std::uint32_t> bases;
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    const Citation& cite = law.citation(table.cite(row));
    documents.push_back(title_of(cite));
    sections.push_back(cite.section);
    ++bases[cite.basis];
  }
  for (const auto& [basis, count] : bases) counts.push_back(fmt::format("{} {}", count, name_of(basis)));
  return fmt::format("| [{}](../../{}) | {} {} | {} |\n", table.name, table.place.file,
                     plain(joined(documents, ", ")), plain(joined(sections, ", ")), joined(counts, ", "));
}

/// REQUIRES: the ruleset names the rule.
string law_of(const Rule& rule, const Given& given) {
  const Law& law = *given.law;
  string out = fmt::format("## Under {}\n\n", law.id);
  const RuleSetting* setting = law.rule(rule.id);
  if (setting->force == RuleSetting::Force::off) return out + "Not in force.\n\n";
  out += setting->force == RuleSetting::Force::advised ? "Advised. It stands on:\n\n"
                                                       : "Required. It stands on:\n\n";
  for (const CitationId id : setting->cites) {
    const Citation& cite = law.citation(id);
    out += fmt::format("- {} ({})\n", plain(cited(cite)), plain(basis_of(cite)));
  }
  out += '\n';
  if (const auto at = given.parameters.find(&rule); at != given.parameters.end()) {
    out += "| parameter | value | stands in | basis |\n|---|---|---|---|\n";
    for (const Parameter* p : at->second) {
      const Citation& cite = law.citation(p->cite);
      out += fmt::format("| {} | {} | {} | {} |\n", p->name, plain(p->text), plain(cited(cite)),
                         plain(basis_of(cite)));
    }
    out += '\n';
  }
  if (const auto at = given.tables.find(&rule); at != given.tables.end()) {
    out += "| table | stands in | rows by basis |\n|---|---|---|\n";
    for (const Table* table : at->second) out += row_of_table(law, *table);
    out += '\n';
  }
  return out;
}

/// What an edition says otherwise of what the rule stands on and reads; its base is `newest`.
string edition_of(const Rule& rule, const Given& newest, const Law& law) {
  string out = fmt::format("## Under {}\n\nAs under {}", law.id, newest.law->id);
  const auto reads = [&](const string& name) {
    const auto p = newest.parameters.find(&rule);
    const auto t = newest.tables.find(&rule);
    const auto is_it = [&](const auto* item) { return item->name == name; };
    return (p != newest.parameters.end() && std::any_of(p->second.begin(), p->second.end(), is_it)) ||
           (t != newest.tables.end() && std::any_of(t->second.begin(), t->second.end(), is_it)) ||
           name == rule.id;
  };
  string list;
  const auto pair = pages::Editions{std::make_shared<const Law>(law), newest.law};
  for (const pages::Difference& d : pages::differences_of(pair)) {
    if (!reads(d.name) || !(d.of_value() || d.name == rule.id)) continue;
    list += fmt::format("- {}: {}{}{}\n", plain(d.what),
                        d.of_value() ? fmt::format("**{}**", plain(d.values.front())) : "",
                        d.of_value() && !d.stands.front().empty() ? "; " : "", plain(d.stands.front()));
  }
  const string_view numbers = "numbers of sections ([editions.md](../editions.md))";
  return list.empty() ? fmt::format("{}, but for {}.\n\n", out, numbers)
                      : fmt::format("{}, but for {} and:\n\n{}\n", out, numbers, list);
}

/// The page of docs/figures that tells of a figure; empty where none does.
string page_of(const std::map<string, string>& pages, string_view figure) {
  for (const auto& [name, text] : pages) {
    if (text.find(fmt::format("`{}`", figure)) != string::npos) return name;
  }
  return {};
}

string figures_of(const Rule& rule, const std::map<string, string>& pages) {
  string out = "## Figures it reads\n\n| figure | in | what it is |\n|---|---|---|\n";
  for (const string_view name : rule.figures) {
    const figure::Info& info = *figure::find(name);
    const string_view unit = info.unit == Unit::one ? "a number" : symbol_of(info.unit);
    out += fmt::format("| [{}](../figures/{}) | {} | {} |\n", name, page_of(pages, name), unit,
                       plain(info.about));
  }
  return out + '\n';
}

using Facts =
    std::map<string_view, std::set<string_view>>;  // attributes of an element; none: that it is there

void collect(string_view reads, Facts& facts, std::set<string_view>& seen) {
  constexpr string_view other = "figure:";
  while (!reads.empty()) {
    const std::size_t size = std::min(reads.find(' '), reads.size());
    const string_view one = reads.substr(0, size);
    reads.remove_prefix(std::min(size + 1, reads.size()));
    if (one.starts_with(other)) {
      if (seen.insert(one).second) collect(figure::find(one.substr(other.size()))->reads, facts, seen);
      continue;
    }
    const std::size_t at = one.find('@');
    auto& attributes = facts[one.substr(0, at)];
    if (at != string_view::npos) attributes.insert(one.substr(at + 1));
  }
}

string facts_of(const Rule& rule) {
  Facts facts;
  std::set<string_view> seen;
  for (const string_view name : rule.figures) collect(figure::find(name)->reads, facts, seen);
  string out = "## Facts it may ask for\n\n";
  for (const auto& [element, attributes] : facts) {
    out += fmt::format("- {}{}{}\n", element, attributes.empty() ? "" : ": ", fmt::join(attributes, ", "));
  }
  return out + '\n';
}

const Finding* finding_of(const Rule& rule, const Example& example, Finding::Kind kind) {
  const auto& all = example.report.findings;
  const auto at = std::find_if(all.begin(), all.end(),
                               [&](const Finding& f) { return f.rule == rule.id && f.kind == kind; });
  return at == all.end() ? nullptr : &*at;
}

/// The first example whose name begins with one of these words.
const Example* first(const Described& d, std::initializer_list<string_view> words) {
  const auto at = std::find_if(d.examples.begin(), d.examples.end(), [&](const Example& e) {
    return std::any_of(words.begin(), words.end(),
                       [&](string_view word) { return e.name.starts_with(word); });
  });
  return at == d.examples.end() ? nullptr : &*at;
}

string opening(const Rule& rule, const Example& example) {
  return fmt::format("{} ([{}](../../fixtures/rules/{}/{}))\n\n", plain(example.about), example.name, rule.id,
                     example.name);
}

string fault(const Described& d) {
  const Rule& rule = *d.rule;
  const Example* example = first(d, {"violates"});
  if (example == nullptr) throw std::runtime_error(string(rule.id) + " has no fixture of a fault");
  const Finding* found = finding_of(rule, *example, Finding::Kind::violates);
  const bool advised = found == nullptr;
  if (advised) found = finding_of(rule, *example, Finding::Kind::advised);
  if (found == nullptr) throw std::runtime_error(example->name + " shows no fault of " + string(rule.id));
  string out = fmt::format("## {}\n\n", advised ? "Not as advised" : "A fault") + opening(rule, *example) +
               "```\n" + sentence(found->message) + '\n';
  for (const string& line : found->working) out += "  " + line + '\n';
  if (found->has_limit)
    out += fmt::format("  measured {}; limit {}\n", found->measured_shown, found->limit_shown);
  return out + "```\n\n" + fmt::format("Its cure: {}\n\n", plain(rule.cure));
}

string no_fault(const Described& d) {
  const Example* example = first(d, {"at-limit", "complies"});
  return example == nullptr ? "" : "## No fault\n\n" + opening(*d.rule, *example);
}

string open_question(const Described& d) {
  const Rule& rule = *d.rule;
  const Example* example = first(d, {"undetermined"});
  const Finding* found =
      example == nullptr ? nullptr : finding_of(rule, *example, Finding::Kind::undetermined);
  if (found == nullptr) return {};
  string out = "## Undetermined\n\n" + opening(rule, *example) + "It asks for:\n\n";
  for (const Need& need : found->needs) {
    out += fmt::format("- of {}: {}, {} ({})", need.element, need.datum.empty() ? need.fact : need.datum,
                       plain(need.expects), need.who);
    out += need.why.empty() ? "\n" : "; " + plain(need.why) + '\n';
  }
  return out + '\n';
}

string page(const Described& d, const std::vector<Given>& laws, const pages::Editions& editions,
            const std::map<string, string>& pages) {
  const Rule& rule = *d.rule;
  string method(rule.id);
  std::replace(method.begin(), method.end(), '-', '_');
  string out = fmt::format("{}# {}\n\n{}\n\n{}\n\n", not_written, rule.id, sentence(plain(rule.title)),
                           plain(rule.why));
  out += fmt::format("It judges each {}", name_of(rule.subject));
  for (const string_view reason : rule.reasons) out += fmt::format("; not where {}", plain(reason));
  out += fmt::format(". ([{0}.cpp](../../rulesets/methods/{0}.cpp))\n\n", method);
  out += fault(d) + no_fault(d) + open_question(d);
  if (!rule.unseen.empty()) out += fmt::format("## What it does not see\n\n{}\n\n", plain(rule.unseen));
  for (const Given& given : laws) {
    if (given.law->rule(rule.id) == nullptr) continue;
    out += law_of(rule, given);
    for (auto law = editions.rbegin(); law != editions.rend(); ++law) {
      if ((*law)->layers.front() == given.law->id) out += edition_of(rule, given, **law);
    }
  }
  out += figures_of(rule, pages) + facts_of(rule);
  out.pop_back();
  return out;
}

/// The rulesets in which the rule is in force, and where it is only advised.
string in_force(const Rule& rule, const std::vector<Given>& laws, const pages::Editions& editions) {
  std::vector<const Law*> all;
  for (const Given& given : laws) all.push_back(given.law.get());
  for (const auto& law : editions) all.push_back(law.get());
  std::ranges::sort(all, {}, &Law::id);
  string out;
  for (const Law* law : all) {
    const RuleSetting* const setting = law->rule(rule.id);
    if (setting == nullptr || setting->force == RuleSetting::Force::off) continue;
    if (!out.empty()) out += ", ";
    out += law->id;
    if (setting->force == RuleSetting::Force::advised) out += " (advised)";
  }
  return out;
}

string index_of(const std::vector<Described>& rules, const std::vector<Given>& laws,
                const pages::Editions& editions) {
  string out = string(not_written) + R"(# Rules

Each page is written from what its rule says of itself and from its fixtures, as the engine judges them. The numbers
under a ruleset are those without which some figure of these fixtures would be another. A fact is asked for only where it
would decide.

| rule | what must hold | in force under |
|---|---|---|
)";
  for (const Described& d : rules) {
    out += fmt::format("| [{0}]({0}.md) | {1} | {2} |\n", d.rule->id, plain(d.rule->title),
                       in_force(*d.rule, laws, editions));
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  const bool compare = argc == 3 && string_view(argv[2]) == "--compare";
  if (argc != 2 && !compare) return std::cerr << "usage: write_pages ROOT [--compare]\n", 2;
  const fs::path root = argv[1];

  std::map<string, string> figures;
  for (const auto& entry : fs::directory_iterator(root / "docs/figures")) {
    figures[entry.path().filename().string()] = bytes_of(entry.path());
  }
  std::vector<Described> rules;
  for (const Rule* rule : shipped_rules()) rules.push_back({rule, examples_of(root, *rule)});
  std::vector<std::shared_ptr<const Law>> shipped;
  std::vector<Given> laws;   // of one layer
  pages::Editions editions;  // that stand upon one of them
  for (const RulesetInfo& info : shipped_rulesets()) {
    auto law = load_shipped_ruleset(info.id).law;
    shipped.push_back(law);
    if (law->layers.size() > 1) {
      editions.push_back(std::move(law));
    } else {
      laws.push_back(given_by(std::move(law), rules));
    }
  }

  int wrong = 0;
  std::map<string, string> pages{{"rules/README.md", index_of(rules, laws, editions)}};
  for (const Described& d : rules) {
    pages["rules/" + string(d.rule->id) + ".md"] = page(d, laws, editions, figures);
    for (const string_view name : d.rule->figures) {
      if (!page_of(figures, name).empty()) continue;
      std::cerr << "no page of docs/figures tells of `" << name << "`\n";
      wrong = 1;
    }
  }
  pages["layers/README.md"] = string(not_written) + pages::index_of_layers(shipped);
  for (const auto& law : shipped)
    pages["layers/" + law->id + ".md"] = string(not_written) + pages::page_of_layer(*law);
  for (const Given& given : laws) {
    pages::Editions family;
    for (const auto& law : editions) {
      if (law->layers.front() == given.law->id) family.push_back(law);
    }
    if (family.empty()) continue;
    family.push_back(given.law);
    const auto is_read = [&](string_view name) {
      const auto in = [&](const auto& by_rule) {
        return std::any_of(by_rule.begin(), by_rule.end(), [&](const auto& entry) {
          return std::any_of(entry.second.begin(), entry.second.end(),
                             [&](const auto* item) { return item->name == name; });
        });
      };
      return in(given.parameters) || in(given.tables);
    };
    std::vector<string> unshown;
    pages["editions.md"] =
        string(not_written) + pages::page_of_editions(family, root / "fixtures/editions", is_read, unshown);
    for (const string& what : unshown) {
      std::cerr << "no fixture of fixtures/editions shows what editions say otherwise of " << what << '\n';
      wrong = 1;
    }
  }
  for (const auto& [name, text] : pages) {
    const fs::path file = root / "docs" / name;
    if (!compare) fs::create_directories(file.parent_path());
    if (bytes_of(file) == text) continue;
    if (compare) {
      std::cerr << "docs/" << name << " is not what would be written; build target renew-pages\n";
      wrong = 1;
    } else if (!(std::ofstream(file, std::ios::binary) << text)) {
      std::cerr << "cannot write docs/" << name << '\n';
      wrong = 1;
    }
  }
  return wrong;
}
