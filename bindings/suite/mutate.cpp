#include "mutate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <pugixml.hpp>
#include <set>
#include <sstream>

#include "compare.hpp"
#include "json.hpp"
#include "law_changes.hpp"
#include "laws.hpp"
#include "parallel.hpp"
#include "traced.hpp"
#include "without.hpp"

namespace raceward::suite {

namespace {

/// A document under one ruleset, as expected there; or between two, of which the one can change.
struct Subject {
  const Document* document = nullptr;
  const Installation* installation = nullptr;
  std::string ruleset;  ///< as the document names it
  std::shared_ptr<const ReadyLaw> law;
  std::shared_ptr<const ReadyLaw> other{};  ///< of a document between two rulesets
  bool is_first = true;                     ///< `law` is the first of the two
};

bool notices(const Subject& s, const ReadyLaw& law) {
  if (s.other) {
    return !judge_between(*s.document, *s.installation, s.is_first ? law : *s.other,
                          s.is_first ? *s.other : law)
                .mismatches.empty();
  }
  std::vector<Mismatch> all =
      mismatches_of(s.document->expected, report_on(*s.document, *s.installation, law), s.ruleset);
  if (all.empty()) compare_figures(s.document->expected, *s.installation, law_of(law), s.ruleset, all);
  return !all.empty();
}

/// Changes of an installation, by kind: each writes the document once for each place of it.
struct Kind {
  const char* what;
  const char* change;
  const char* path;  ///< XPath to the places
  std::function<void(pugi::xml_node)> make;
};

void swap_line_and_load(pugi::xml_node device) {
  // Who was fed through it feeds it.
  const std::string id = device.attribute("id").value(),
                    feeder = device.attribute("fed-from-load-of").value();
  for (pugi::xml_node other : device.parent().children("device")) {
    if (other.attribute("id").value() != feeder) continue;
    device.remove_attribute("fed-from-load-of");
    device.remove_attribute("fed-from-line");
    other.remove_attribute("fed-from-line");
    other.remove_attribute("fed-from-load-of");
    device.append_attribute("fed-from-line") = "yes";
    other.append_attribute("fed-from-load-of") = id.c_str();
  }
}

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> all = {
      {"a support", "taken away", "//*[local-name()='support']",
       [](pugi::xml_node n) { n.parent().remove_child(n); }},
      {"an equipment grounding conductor", "taken away",
       "//*[local-name()='conductor'][@role='equipment-grounding']",
       [](pugi::xml_node n) { n.parent().remove_child(n); }},
      {"ungrounded conductors", "nine more", "//*[local-name()='conductor'][@role='ungrounded']",
       [](pugi::xml_node n) {
         const int count = n.attribute("count").as_int(1);
         n.remove_attribute("count");
         n.append_attribute("count") = count + 9;
       }},
      {"a box", "shrunk", "//*[local-name()='box'][@size or @volume]",
       [](pugi::xml_node n) {
         n.remove_attribute("volume");
         n.append_attribute("volume") = "3in3";
       }},
      {"devices", "line and load swapped", "//*[local-name()='device'][@fed-from-load-of]",
       swap_line_and_load},
  };
  return all;
}

/// Where an element stands: "support of raceway R4".
Problem place_of(pugi::xml_node node, const Document& document) {
  const auto offset = static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 1) - 1);
  const std::string_view before = std::string_view(document.text).substr(0, offset);
  const std::size_t start = before.rfind('\n') + 1;  // 0 where there is none
  std::string said = node.name();
  for (pugi::xml_node at = node; at; at = at.parent()) {
    if (at != node) said += fmt::format(" of {}", at.name());
    if (!at.attribute("id")) continue;
    said += fmt::format(" {}", at.attribute("id").value());
    break;
  }
  const auto line = static_cast<std::uint32_t>(1 + std::ranges::count(before, '\n'));
  return {{document.file, line, static_cast<std::uint32_t>(offset - start + 1)}, std::move(said)};
}

class Mutator {
 public:
  Mutator(std::vector<Document> documents, const Choice& choice) : choice_(choice) {
    documents_ = std::move(documents);
    for (const Document& d : documents_) read(d);
  }

  Mutation run(const std::function<void(std::size_t, std::size_t)>& told) {
    plan();
    std::vector<Mutant> tried(plans_.size());
    each(
        plans_.size(), choice_.threads, [&](std::size_t i) { tried[i] = attempt(plans_[i]); },
        [&](std::size_t done) {
          if (told) told(done, plans_.size());
        });
    out_.of_laws = std::move(tried);
    for (const Kind& kind : kinds()) {
      if (wanted(kind.what)) out_.of_installations.push_back(attempt(kind));
    }
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool wanted(const std::string& what) const {
    return choice_.change.empty() ||
           std::any_of(choice_.change.begin(), choice_.change.end(),
                       [&](const std::string& word) { return what.find(word) != std::string::npos; });
  }

  /// A change, and under which laws it is tried on which subjects.
  struct Plan {
    std::string layer, what;
    LawChange planned;
    std::map<const Law*, std::vector<const Subject*>> subjects;
    std::map<const Law*, std::function<void(Law&)>> make;  ///< by law: positions differ
  };

  void read(const Document& d) {
    Loaded loaded = load_bytes(d.text, d.file, 1);
    std::vector<Problem> problems = d.expected.problems;
    problems.insert(problems.end(), loaded.problems.begin(), loaded.problems.end());
    if (!problems.empty()) {
      for (Problem& p : problems) {
        if (told_.insert(raceward::text_of(p)).second) out_.problems.push_back(std::move(p));
      }
      return;
    }
    std::vector<std::string> names = d.expected.under;
    if (!choice_.under.empty() || names.empty()) names.assign(1, "");
    const std::vector<std::string> paths = laws_.judging(d, *loaded.installation, choice_);
    if (paths.empty()) out_.problems.push_back({{d.file, 0, 0}, names_none});
    installations_.push_back(std::move(loaded.installation));
    const bool between = d.expected.between && choice_.under.empty();
    for (std::size_t i = 0; i < paths.size(); ++i) {
      const auto& [law, ready] = laws_.at(paths[i]);
      if (!law.law) {
        out_.problems.insert(out_.problems.end(), law.problems.begin(), law.problems.end());
        continue;
      }
      auto s = std::make_unique<Subject>(Subject{
          &d, installations_.back().get(), names[i].empty() ? laws_.spelt_in(d, paths[i]) : names[i], ready});
      if (between) {
        s->other = laws_.at(paths[1 - i]).ready;
        s->is_first = i == 0;
        if (!s->other) continue;  // told where it is this one's turn
      }
      if (notices(*s, *s->law)) {
        out_.left_out.push_back({{d.file, 0, 0},
                                 "it is not as expected " + (between ? names[0] + " and " : "under ") +
                                     (between ? names[1] : s->ruleset) +
                                     " to begin with, and is left out; run the suite"});
        if (between) return;
        continue;
      }
      subjects_.push_back(std::move(s));
    }
  }

  static bool stated(const std::vector<const Subject*>& subjects) {
    return std::any_of(subjects.begin(), subjects.end(),
                       [](const Subject* s) { return !s->document->expected.figures.empty(); });
  }

  /// Numbers that figures rest on and do not cite: the first document that notices their absence tells. Those
  /// that state figures are asked first, and before all others those that bear the name of the table.
  void find_untold(const Law& law, const Traced& of,
                   std::vector<std::vector<const Subject*>>& rest_on) const {
    std::vector<std::size_t> untold;
    for (std::size_t i = 0; i < rest_on.size(); ++i) {
      if (!stated(rest_on[i]) && wanted(of.entries()[i].what)) untold.push_back(i);
    }
    const auto ask = [&](const Subject& s, std::vector<std::size_t>& entries) {
      for (const std::size_t i : missed_without(entries, [&](const std::vector<std::size_t>& some) {
             return notices(s, *without(law, of.entries(), some, choice_.extra_rules));
           }))
        rest_on[i].insert(rest_on[i].begin(), &s);
    };
    std::vector<std::size_t> left;
    for (std::vector<std::size_t>& entries : by_table(of.entries(), untold)) {
      const std::size_t table = of.entries()[entries.front()].table;
      for (const std::unique_ptr<Subject>& s : subjects_) {
        if (table == Traced::no_table || &law_of(*s->law) != &law) continue;
        if (s->document->name.find(law.tables[table].name) != std::string::npos) ask(*s, entries);
      }
      left.insert(left.end(), entries.begin(), entries.end());
    }
    for (const std::unique_ptr<Subject>& s : subjects_) {
      if (&law_of(*s->law) == &law) ask(*s, left);
    }
  }

  void plan() {
    // Who states figures notices most, and is asked first.
    std::stable_partition(subjects_.begin(), subjects_.end(), [](const std::unique_ptr<Subject>& s) {
      return !s->document->expected.figures.empty();
    });
    std::vector<const Rule*> known = shipped_rules();
    known.insert(known.end(), choice_.extra_rules.begin(), choice_.extra_rules.end());
    std::map<const Law*, std::unique_ptr<Traced>> traced;
    std::vector<const Law*> in_order;                                        // as the documents name them
    std::map<const Law*, std::vector<std::vector<const Subject*>>> rest_on;  // by entry
    std::map<const Law*, std::map<std::string, std::vector<const Subject*>>> judged_by, asked_by;
    std::map<const Law*, std::vector<const Subject*>> all_of;
    for (const std::unique_ptr<Subject>& s : subjects_) {
      const Law* const law = &law_of(*s->law);
      std::unique_ptr<Traced>& of = traced[law];
      if (!of) {
        in_order.push_back(law);
        of = std::make_unique<Traced>(*law);
        rest_on[law].resize(of->entries().size());
      }
      const Report report = report_on(*s->document, *s->installation, *s->law);
      for (const auto& [entry, use] : of->used(*s->installation, report, known))
        rest_on[law][entry].push_back(s.get());
      for (const LedgerLine& line : report.ledger) {
        const std::uint64_t judged = line.complies + line.violates + line.undetermined;
        if (judged > 0) judged_by[law][line.rule].push_back(s.get());
        if (judged + line.not_applicable > 0) asked_by[law][line.rule].push_back(s.get());
      }
      all_of[law].push_back(s.get());
    }
    for (const auto& [law, of] : traced) find_untold(*law, *of, rest_on[law]);
    std::map<std::tuple<std::string, std::string, std::string>, std::size_t> known_plans;
    const auto add = [&](const Law* law, const std::string& layer, const std::string& what, LawChange planned,
                         const std::vector<const Subject*>& subjects) {
      if (!wanted(what)) return;
      const auto [at, is_new] = known_plans.try_emplace(
          {layer, what, planned.of.empty() ? planned.change : planned.of}, plans_.size());
      if (is_new) plans_.push_back({layer, what, planned, {}, {}});
      Plan& plan = plans_[at->second];
      plan.subjects[law] = subjects;
      plan.make[law] = std::move(planned.make);
    };
    for (const Law* law : in_order) {
      const std::unique_ptr<Traced>& of = traced[law];
      for (std::size_t i = 0; i < of->entries().size(); ++i) {
        const Traced::Entry& entry = of->entries()[i];
        std::vector<LawChange> all =
            entry.table == Traced::no_table
                ? changes_of_parameter(*law, entry.at)
                : changes_of_row(*law, entry.table, static_cast<std::uint32_t>(entry.at));
        for (LawChange& planned : all) add(law, entry.layer, entry.what, std::move(planned), rest_on[law][i]);
      }
      for (std::size_t i = 0; i < law->rules.size(); ++i) {
        const RuleSetting& rule = law->rules[i];
        const std::string what = "rule " + rule.rule;
        for (LawChange& planned : changes_of_rule(*law, i))
          add(law, law->layers[rule.layer], what, std::move(planned), judged_by[law][rule.rule]);
        for (LawChange& planned : changes_of_own_rule(*law, rule.rule))
          add(law, law->layers[rule.layer], what, std::move(planned), asked_by[law][rule.rule]);
      }
      for (std::size_t i = 0; i < law->scopes.size(); ++i) {
        for (LawChange& planned : changes_of_scope(*law, i))
          add(law, law->layers[law->scopes[i].layer], "where " + law->scopes[i].words, std::move(planned),
              all_of[law]);
      }
    }
    std::stable_sort(plans_.begin(), plans_.end(),
                     [](const Plan& a, const Plan& b) { return a.layer < b.layer; });
  }

  Mutant attempt(const Plan& plan) const {
    Mutant out{plan.what, plan.planned.change, plan.layer};
    for (const auto& [law, subjects] : plan.subjects) {
      if (subjects.empty()) continue;
      out.documents += subjects.size();
      if (out.noticed_by > 0) continue;
      const auto changed = std::make_shared<Law>(*law);
      plan.make.at(law)(*changed);
      const std::shared_ptr<const ReadyLaw> ready = make_ready(changed, choice_.extra_rules);
      for (const Subject* s : subjects) {
        if (!notices(*s, *ready)) continue;
        ++out.noticed_by;
        break;
      }
    }
    return out;
  }

  Mutant attempt(const Kind& kind) const {
    Mutant out{kind.what, kind.change, {}};
    for (const std::unique_ptr<Subject>& s : subjects_) {
      pugi::xml_document original;
      constexpr unsigned whole = pugi::parse_full;
      if (!original.load_buffer(s->document->text.data(), s->document->text.size(), whole)) continue;
      const std::size_t places = original.select_nodes(kind.path).size();
      for (std::size_t i = 0; i < places; ++i) {
        pugi::xml_document changed;
        changed.reset(original);
        kind.make(changed.select_nodes(kind.path)[i].node());
        std::ostringstream text;
        changed.save(text, "", pugi::format_raw);
        const Loaded loaded = load_bytes(text.str(), s->document->file, 1);
        if (!loaded.installation) continue;  // it can no longer be read: who changes it is told so
        ++out.documents;
        Subject with = *s;
        with.installation = loaded.installation.get();
        if (notices(with, *s->law)) {
          ++out.noticed_by;
        } else {
          out.unnoticed.push_back(place_of(original.select_nodes(kind.path)[i].node(), *s->document));
        }
      }
    }
    return out;
  }

  const Choice& choice_;
  Laws laws_{choice_.extra_rules};
  std::vector<Document> documents_;
  std::vector<InstallationPtr> installations_;
  std::vector<std::unique_ptr<Subject>> subjects_;
  std::vector<Plan> plans_;
  std::set<std::string> told_;  // faults of a file may be those of many documents
  Mutation out_;
};

/// More of one kind of change nobody reads.
constexpr std::size_t most_places_told = 20;

struct Score {
  std::size_t all = 0, tried = 0, noticed = 0;
};

Score score_of(const std::vector<Mutant>& mutants) {
  Score out;
  for (const Mutant& m : mutants) {
    ++out.all;
    out.tried += m.documents > 0 ? 1 : 0;
    out.noticed += m.noticed_by > 0 ? 1 : 0;
  }
  return out;
}

std::string percent(std::size_t part, std::size_t of) {
  return of == 0 ? "-" : fmt::format("{}.{} %", part * 100 / of, part * 1000 / of % 10);
}

}  // namespace

Mutation mutate(std::vector<Document> documents, const Choice& choice,
                const std::function<void(std::size_t, std::size_t)>& told) {
  return Mutator(std::move(documents), choice).run(told);
}

std::string text_of(const Mutation& mutation) {
  std::string out;
  for (const Problem& p : mutation.problems) out += "unreadable  " + raceward::text_of(p) + "\n";
  for (const Problem& p : mutation.left_out) out += "left out    " + raceward::text_of(p) + "\n";
  std::string layer;
  for (const Mutant& m : mutation.of_laws) {
    if (m.noticed_by > 0 || m.documents == 0) continue;
    if (layer != m.layer) out += fmt::format("Changes of {} that no document notices\n", m.layer);
    layer = m.layer;
    out += fmt::format("  {}: {}; {} {}\n", m.what, m.change, m.documents,
                       m.documents == 1 ? "document rests on it" : "documents rest on it");
  }
  out += "Changes of installations\n";
  for (const Mutant& m : mutation.of_installations) {
    out += fmt::format("  {} {}: noticed in {} of {} places\n", m.what, m.change, m.noticed_by, m.documents);
    const std::size_t told = std::min(m.unnoticed.size(), most_places_told);
    for (std::size_t i = 0; i < told; ++i)
      out += fmt::format("    not: {}\n", raceward::text_of(m.unnoticed[i]));
    if (m.unnoticed.size() > told)
      out += fmt::format("    and {} more; --format json tells all\n", m.unnoticed.size() - told);
  }
  const Score score = score_of(mutation.of_laws);
  out += fmt::format(
      "{} changes of rulesets: {} noticed ({}); {} are of numbers that documents rest on, {} of them "
      "noticed\n",
      score.all, score.noticed, percent(score.noticed, score.all), score.tried,
      percent(score.noticed, score.tried));
  return out;
}

std::string json_of(const Mutation& mutation) {
  Json json;
  const auto list = [&](const char* key, const std::vector<Mutant>& all) {
    json.begin_array(key);
    for (const Mutant& m : all) {
      json.begin_object();
      json.text("layer", m.layer);
      json.text("what", m.what);
      json.text("change", m.change);
      json.number("tried", m.documents);
      json.number("noticed", m.noticed_by);
      if (&all == &mutation.of_installations) json.texts("unnoticed", lines_of(m.unnoticed));
      json.end_object();
    }
    json.end_array();
  };
  const Score score = score_of(mutation.of_laws);
  json.begin_object();
  json.number("format", 1);
  json.text("raceward", version());
  json.number("changes", score.all);
  json.number("tried", score.tried);
  json.number("noticed", score.noticed);
  json.texts("problems", lines_of(mutation.problems));
  json.texts("left_out", lines_of(mutation.left_out));
  list("rulesets", mutation.of_laws);
  list("installations", mutation.of_installations);
  json.end_object();
  return json.take();
}

}  // namespace raceward::suite
