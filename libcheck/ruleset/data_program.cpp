#include "ruleset/data_program.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <pugixml.hpp>

#include "facts/stated.hpp"
#include "ruleset/c_locale.hpp"
#include "ruleset/text_file.hpp"
#include "ruleset/xpath_compared.hpp"

namespace raceward::ruleset {

using facts::Holds;
using Form = Holds::Form;

namespace {

/// An expression with the parts of it that must come to a number.
struct Query {
  Expression read;
  std::optional<pugi::xpath_query> query;
  std::vector<pugi::xpath_query> guards;
};

struct Test {
  Query test, measured, limit;
};

/// Joins are the same for all data rules of a check.
struct SharedJoins {
  std::unique_ptr<facts::Joins> joins;
};

facts::Joins& joins_of(figure::Evaluation& e) {
  auto& shared = e.once<SharedJoins>();
  if (!shared.joins) shared.joins = std::make_unique<facts::Joins>(e);
  return *shared.joins;
}

void collect_figures(const Reads& reads, std::vector<std::string_view>& out) {
  for (const Reads::Figure& figure : reads.figures) out.push_back(figure.info->name);
}

/// What a message puts in, and nothing else in braces.
std::optional<ExpressionFault> message_fault(const DataRule::Assert& a) {
  for (std::size_t at = a.message.find('{'); at != std::string::npos; at = a.message.find('{', at + 1)) {
    const std::size_t end = a.message.find('}', at);
    const std::string name = a.message.substr(at + 1, end == std::string::npos ? end : end - at - 1);
    if (name == "where") continue;
    const bool known = name == "measured" || name == "limit";
    if (!known)
      return ExpressionFault{at,
                             fmt::format("{} is not filled in; write {{where}}, {{measured}} or {{limit}}",
                                         quoted("{" + name + "}"))};
    if ((name == "measured" ? a.measured : a.limit).empty())
      return ExpressionFault{
          at, fmt::format("{{{}}} is filled in from the attribute {}, which is not written", name, name)};
  }
  return std::nullopt;
}

class Faults {
 public:
  Faults(const DataRule& rule, const Names& names) : names_(names), rule_(rule) {}

  std::vector<DataRuleFault> all() {
    Compared whens(names_);
    for (const DataRule::When& when : rule_.whens) {
      reading(when.test, Gives::truth);
      if (out_.empty()) possible(whens, when.test);
    }
    for (const DataRule::Assert& a : rule_.asserts) {
      // What a condition singles out may be forbidden altogether: false().
      if (rule_.whens.empty())
        reading(a.test, Gives::must);
      else
        expression(a.test, Gives::must);
      Compared alone(names_);
      if (out_.empty()) possible(alone, a.test);
      if (out_.empty() && alone.always(a.test))
        add(a.test,
            {0, "this holds whatever is written: it asks nothing. What is only to be known stands in needs"});
      const Holds measured = expression(a.measured, Gives::number);
      const Holds limit = expression(a.limit, Gives::number);
      if (!a.measured.empty() && !a.limit.empty() && out_.empty() && !alike(measured, limit))
        add(a.limit, {0, "limit is not of the dimension of measured"});
      if (auto fault = message_fault(a)) add(a.message, std::move(*fault));
    }
    for (const std::string& path : rule_.needs) {
      Reads reads;
      if (auto fault = check_path(path, names_, reads)) add(path, std::move(*fault));
    }
    if (!out_.empty()) return std::move(out_);
    for (const std::string& path : rule_.may_lack) {
      if (std::find(lacking_.begin(), lacking_.end(), path) == lacking_.end())
        add(path, {0, fmt::format("no expression of the rule reads {}", quoted(path))});
    }
    return std::move(out_);
  }

 private:
  static bool alike(const Holds& a, const Holds& b) {
    const auto plain = [](const Holds& h) { return h.form == Form::count || h.form == Form::number; };
    return (plain(a) && plain(b)) || (a.form == b.form && a.dimension == b.dimension);
  }
  Expression checked(const std::string& text, Gives gives) {
    Expression read;
    if (auto fault = check_expression(text, gives, names_, read)) add(text, std::move(*fault));
    lacking_.insert(lacking_.end(), read.lacking.begin(), read.lacking.end());
    return read;
  }
  Holds expression(const std::string& text, Gives gives) {
    return text.empty() ? Holds{} : checked(text, gives).holds;
  }
  // A truth about the installation.
  void reading(const std::string& text, Gives gives) {
    if (text.empty()) return;
    const std::size_t before = out_.size();
    const bool reads = !checked(text, gives).reads.empty();
    if (out_.size() == before && !reads)
      add(text, {0, "this reads nothing of the installation: it is the same for every one"});
  }
  void possible(Compared& with, const std::string& text) {
    if (auto fault = with.add(text)) add(text, std::move(*fault));
  }
  void add(const std::string& text, ExpressionFault fault) { out_.push_back({&text, std::move(fault)}); }

  const Names& names_;
  const DataRule& rule_;
  std::vector<std::string> lacking_;
  std::vector<DataRuleFault> out_;
};

}  // namespace

std::vector<DataRuleFault> faults_of(const DataRule& rule, const Names& names) {
  return Faults(rule, names).all();
}

Names names_for(const DataRule& rule, const Law& law, const facts::Shapes& shapes) {
  Names names;
  names.subject = &shapes.of(rule.subject);
  names.parameter = [&law](std::string_view name) { return law.parameter(name); };
  for (const Parameter& p : law.parameters) names.parameters.push_back(p.name);
  names.fact = [&law](std::string_view name) { return law.fact(name); };
  for (const DeclaredFact& f : law.facts) names.facts.push_back(f.name);
  names.may_lack = rule.may_lack;
  return names;
}

struct DataProgram::Compiled {
  pugi::xpath_variable_set variables;
  std::vector<Query> whens;
  std::vector<Test> asserts;
  Reads of_asserts;  // and of needs
  std::vector<std::string> parameters;

  void add(Query& to, const std::string& text, Gives gives, const Names& names) {
    if (text.empty()) return;
    check_expression(text, gives, names, to.read);
    parameters.insert(parameters.end(), to.read.parameters.begin(), to.read.parameters.end());
  }
  void compile(Query& query) {
    if (query.read.text.empty()) return;
    query.query.emplace(query.read.text.c_str(), &variables);
    for (const std::string& guard : query.read.guards) query.guards.emplace_back(guard.c_str(), &variables);
  }
};

DataProgram::DataProgram() = default;
DataProgram::~DataProgram() = default;

std::shared_ptr<const DataProgram> DataProgram::make(const DataRule& rule, const Law& law,
                                                     std::shared_ptr<const facts::Shapes> shapes,
                                                     std::string& fault) {
  if (static_cast<std::uint8_t>(rule.subject) >= subject_kind_count) {
    fault = "it is about an unknown kind of subject";
    return nullptr;
  }
  const Names names = names_for(rule, law, *shapes);
  if (const auto faults = faults_of(rule, names); !faults.empty()) {
    fault = fmt::format("{}: {}", quoted(*faults.front().text), faults.front().fault.message);
    return nullptr;
  }
  const std::shared_ptr<DataProgram> made(new DataProgram);
  made->source_ = &rule;
  made->shapes_ = std::move(shapes);
  made->compiled_ = std::make_unique<Compiled>();
  Compiled& c = *made->compiled_;
  for (const DataRule::When& when : rule.whens) {
    c.add(c.whens.emplace_back(), when.test, Gives::truth, names);
    made->reads_.add(c.whens.back().read.reads);
    made->reasons_.push_back(when.reason);
  }
  for (const DataRule::Assert& a : rule.asserts) {
    Test& test = c.asserts.emplace_back();
    c.add(test.test, a.test, Gives::must, names);
    c.add(test.measured, a.measured, Gives::number, names);
    c.add(test.limit, a.limit, Gives::number, names);
    for (const Query* each : {&test.test, &test.measured, &test.limit}) c.of_asserts.add(each->read.reads);
    made->messages_.push_back(a.message);
  }
  if (rule.subject == SubjectKind::circuit)
    made->reasons_.emplace_back("it is wiring outside any circuit, which has nothing of what is asked");
  for (const std::string& path : rule.needs) check_path(path, names, c.of_asserts);
  made->reads_.add(c.of_asserts);

  std::sort(c.parameters.begin(), c.parameters.end());
  c.parameters.erase(std::unique(c.parameters.begin(), c.parameters.end()), c.parameters.end());
  for (const std::string& name : c.parameters) {
    const Parameter& p = *law.parameter(name);
    made->parameters_.push_back(&p);
    made->parameter_names_.push_back(p.name);
    if (p.is_word) {
      c.variables.set(p.name.c_str(), p.text.c_str());
    } else {
      const bool plain = facts::holds_of(p.value.unit).form == Form::number;
      const auto count = static_cast<double>(p.value.count);
      c.variables.set(p.name.c_str(), plain ? count / static_cast<double>(number(1).count()) : count);
    }
  }
  const PlainLocale plain;
  const PlainLocale::Here here(plain);
  try {
    for (Query& when : c.whens) c.compile(when);
    for (Test& test : c.asserts) {
      for (Query* each : {&test.test, &test.measured, &test.limit}) c.compile(*each);
    }
  } catch (const pugi::xpath_exception& error) {
    fault = error.what();
    return nullptr;
  }
  collect_figures(made->reads_, made->figures_);
  Rule& r = made->rule_;
  r.id = rule.id;
  r.title = rule.title;
  r.why = rule.why;
  r.subject = rule.subject;
  r.figures = made->figures_;
  r.parameters = made->parameter_names_;
  r.messages = made->messages_;
  r.reasons = made->reasons_;
  if (!rule.asserts.empty()) r.cure = rule.asserts.front().cure;
  return made;
}

namespace {

void collect_words(const Reads& reads, const facts::Shape& shape, std::vector<std::string>& out) {
  std::vector<std::string_view> elements{shape.name};
  if (shape.name == "place") elements = {"panel", "box", "conduit-body", "equipment", "joint"};
  if (shape.name == "circuit") elements = {"circuit", "wiring"};
  for (const std::string_view element : elements) {
    if (!reads.facts.empty() || !reads.parts.empty()) out.emplace_back(element);
    for (const Reads::Fact& fact : reads.facts) {
      const std::string_view name = fact.row->name;
      const bool axis = name == "x" || name == "y" || name == "z";
      out.push_back(fmt::format("{}@{}", element, axis ? "at" : name));
    }
  }
  for (const Reads::Stated& each : reads.stated) out.push_back("stated@" + each.fact->name);
  for (const Reads::Part& part : reads.parts) collect_words(part.of, *part.row->shape, out);
}

}  // namespace

std::vector<std::string> DataProgram::words_read() const {
  std::vector<std::string> out;
  collect_words(reads_, shapes_->of(rule_.subject), out);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

struct DataAsking::State {
  State(figure::Evaluation& evaluation, const DataProgram& of)
      : e(evaluation), program(of), wanted(of.reads().wanted()), writer(evaluation, joins_of(evaluation)) {}

  // --- what is missing ---
  const facts::Origin& origin(pugi::xml_node node) const {
    const std::string_view digits = node.first_attribute().value();
    std::size_t number = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), number);
    return origins[number];
  }

  void lack(MissingId& missing, const facts::Node& of, std::string_view name, std::string_view expects,
            std::string why = {}) {
    const figure::Value value =
        e.lacks(of.subject, name, expects, figure::installer, std::move(why), of.source);
    missing = missing == 0 ? value.missing : e.missing.both(missing, value.missing);
  }

  static std::string_view as_attribute(const facts::ChildRow& row) {
    return row.from == facts::From::overcurrent_device ? "protected-by" : row.name;
  }

  /// Circuits and wiring outside any are one kind of element; that has few of their facts.
  static bool can_state(const facts::Node& node, const Reads::Fact& fact) {
    return node.element != document::Element::wiring || fact.row->name == "kind" ||
           document::row_of(node.element).attributes.find(fact.row->name) != 0;
  }
  bool asks_nothing_of(const Reads& reads, pugi::xml_node node) const {
    const facts::Node& of = origin(node).node;
    return std::any_of(reads.facts.begin(), reads.facts.end(),
                       [&](const Reads::Fact& fact) { return fact.needed && !can_state(of, fact); });
  }

  void missing_of(const Reads& reads, pugi::xml_node node, MissingId& missing) {
    const facts::Origin& from = origin(node);
    for (const Reads::Fact& fact : reads.facts) {
      if (!fact.needed || node.attribute(fact.row->name.data()) || !can_state(from.node, fact)) continue;
      lack(missing, from.node, fact.row->name, facts::expected(fact.row->holds));
    }
    for (const Reads::Figure& figure : reads.figures) {
      if (!figure.needed || node.child("figures").attribute(figure.info->name.data())) continue;
      const figure::Value value = e.get(figure.info->id, from.node.subject);
      if (value.missing == 0) {
        lack(missing, from.node, figure.info->name, "a number", "there is nothing that it could measure");
      } else {
        missing = missing == 0 ? value.missing : e.missing.both(missing, value.missing);
      }
    }
    for (const Reads::Stated& stated : reads.stated) {
      if (!stated.needed || node.child("stated").attribute(stated.fact->name.c_str())) continue;
      facts::Stated& all = facts::stated_in(e);
      std::string why = all.of(*stated.fact, from.node.subject).why;
      if (why.empty()) why = "it is too large to be compared exactly";
      const MissingId more = all.missing(*stated.fact, from.node.subject, std::move(why));
      missing = missing == 0 ? more : e.missing.both(missing, more);
    }
    for (const Reads::Part& part : reads.parts) missing_of(part, from, node, missing);
  }

  void missing_of(const Reads::Part& part, const facts::Origin& from, pugi::xml_node node,
                  MissingId& missing) {
    if (part.needed) {
      for (const facts::Origin::Unknown& unknown : from.unknown) {
        if (unknown.row != part.row) continue;
        if (unknown.missing != 0)
          missing = missing == 0 ? unknown.missing : e.missing.both(missing, unknown.missing);
        else
          lack(missing, from.node, as_attribute(*part.row), "what is there");
      }
    }
    bool some = false;
    for (const pugi::xml_node each : node.children(part.row->name.data())) {
      some = some || !asks_nothing_of(part.of, each);
      missing_of(part.of, each, missing);
    }
    if (!some && part.needed && part.some_fact && missing == 0)
      lack(missing, from.node, part.row->name, "what is there",
           "there is none, so that nothing of it can be compared");
  }

  /// Parts of an expression that come to no number.
  MissingId unmeasured(const Query& query, pugi::xml_node node) {
    MissingId missing = 0;
    for (std::size_t i = 0; i < query.guards.size(); ++i) {
      if (std::isfinite(query.guards[i].evaluate_number(node))) continue;
      const figure::Value value =
          e.lacks(origin(node).node.subject, query.read.guards[i], "a number", figure::ruleset_author,
                  "comes to no number", origin(node).node.source);
      missing = missing == 0 ? value.missing : e.missing.both(missing, value.missing);
    }
    return missing;
  }

  // --- numbers ---
  Reading reading(const Query& query, pugi::xml_node node) {
    Reading out;
    out.place = origin(node).node.subject;
    const double value = query.query->evaluate_number(node);
    const Holds& holds = query.read.holds;
    const bool plain = holds.form == Form::count || holds.form == Form::number;
    const double steps = plain ? value * static_cast<double>(number(1).count()) : value;
    constexpr auto most = static_cast<double>(INT64_MAX / 2);
    if (!std::isfinite(steps) || steps > most || steps < -most ||
        (!plain && std::fabs(steps) > static_cast<double>(facts::largest_exact))) {
      out.missing = e.lacks(out.place, query.read.text, "a number", figure::ruleset_author,
                            "comes to no number that can be held exactly", origin(node).node.source)
                        .missing;
      return out;
    }
    out.amount = {std::llround(steps), holds.unit};
    return out;
  }

  // --- what a reader follows ---
  void note(const Reads& reads, pugi::xml_node node, std::string_view whose, figure::Working& working) {
    for (const Reads::Fact& fact : reads.facts) {
      const pugi::xml_attribute written = node.attribute(fact.row->name.data());
      if (!written) continue;
      working.lines.push_back(
          fmt::format("stated: {}{} is {}", whose, fact.row->name, shown(fact.row->holds, written)));
    }
    for (const Reads::Stated& stated : reads.stated) {
      const pugi::xml_attribute written = node.child("stated").attribute(stated.fact->name.c_str());
      if (written)
        working.lines.push_back(fmt::format("stated: {}{} is {}", whose, stated.fact->name,
                                            shown(facts::holds_of(*stated.fact), written)));
    }
    for (const Reads::Figure& figure : reads.figures)
      e.explain(figure.info->id, origin(node).node.subject, working);
    constexpr std::size_t most_lines = 40;
    for (const Reads::Part& part : reads.parts) {
      for (const pugi::xml_node each : node.children(part.row->name.data())) {
        if (working.lines.size() > most_lines) return;
        const facts::Node& of = origin(each).node;
        const bool own = of.subject != origin(node).node.subject;
        const std::string name =
            own ? installation::words_of(e.model, e.in.sections, of.subject) : std::string(part.row->name);
        note(part.of, each, name + ": ", working);
      }
    }
  }

  static std::string shown(const Holds& holds, pugi::xml_attribute written) {
    if (holds.form != Form::amount) return written.value();
    std::int64_t steps = 0;
    const std::string_view digits = written.value();
    std::from_chars(digits.data(), digits.data() + digits.size(), steps);
    return text_of(Amount{steps, holds.unit});
  }

  void note_all(pugi::xml_node node, figure::Working& working) {
    note(program.reads_, node, {}, working);
    for (const Parameter* p : program.parameters_) {
      working.lines.push_back(fmt::format("{}: {}", p->name, p->is_word ? p->text : text_of(p->value)));
      working.cites.push_back(p->cite);
    }
  }

  // --- the verdict ---
  Verdict answer(pugi::xml_node node, figure::Working* working) {
    const DataProgram::Compiled& c = *program.compiled_;
    const auto no_circuit = static_cast<std::uint32_t>(c.whens.size());  // the last of the reasons
    MissingId open = 0;
    for (std::size_t i = 0; i < c.whens.size(); ++i) {
      if (asks_nothing_of(c.whens[i].read.reads, node)) return Context::not_applicable(no_circuit);
      MissingId missing = 0;
      missing_of(c.whens[i].read.reads, node, missing);
      if (missing == 0) missing = unmeasured(c.whens[i], node);
      if (missing != 0)
        open = open == 0 ? missing : e.missing.both(open, missing);
      else if (!c.whens[i].query->evaluate_boolean(node))
        return Context::not_applicable(static_cast<std::uint32_t>(i));
    }
    if (asks_nothing_of(c.of_asserts, node)) return Context::not_applicable(no_circuit);
    if (working != nullptr) note_all(node, *working);
    if (open != 0) return Context::undetermined(open);
    missing_of(c.of_asserts, node, open);
    if (open != 0) return Context::undetermined(open);
    Verdict last = Context::complies();
    for (std::size_t i = 0; i < c.asserts.size(); ++i) {
      last = answer(c.asserts[i], static_cast<std::uint32_t>(i), node, working);
      if (last.outcome != Outcome::complies) break;
    }
    return last;
  }

  Verdict answer(const Test& test, std::uint32_t message, pugi::xml_node node, figure::Working* working) {
    MissingId missing = 0;
    for (const Query* each : {&test.test, &test.measured, &test.limit}) {
      if (const MissingId more = unmeasured(*each, node); more != 0)
        missing = missing == 0 ? more : e.missing.both(missing, more);
    }
    if (missing != 0) return Context::undetermined(missing);
    Verdict v;
    v.outcome = test.test.query->evaluate_boolean(node) ? Outcome::complies : Outcome::violates;
    v.message = v.outcome == Outcome::violates ? message : 0;
    v.has_measured = test.measured.query.has_value();
    v.has_limit = test.limit.query.has_value();
    if (v.has_measured) v.measured = reading(test.measured, node);
    if (v.has_limit) v.limit = reading(test.limit, node);
    if (v.has_measured && v.has_limit && v.limit.missing == 0)
      v.limit.amount.unit = test.limit.read.holds.unit;
    if (working != nullptr) working->lines.push_back("asked: " + test.test.read.text);
    return v;
  }

  figure::Evaluation& e;
  const DataProgram& program;
  facts::Wanted wanted;
  facts::Writer writer;
  PlainLocale plain;
  std::string text;
  std::vector<facts::Origin> origins;
  pugi::xml_document doc;
  std::vector<pugi::xml_node> nodes;
};

DataAsking::DataAsking(figure::Evaluation& e, const DataProgram& program)
    : state_(std::make_unique<State>(e, program)) {}
DataAsking::~DataAsking() = default;

void DataAsking::prepare(std::span<const Subject> subjects) {
  State& s = *state_;
  s.text.assign("<f>");
  s.origins.clear();
  s.nodes.clear();
  for (const Subject subject : subjects) s.writer.write(subject, s.wanted, s.text, &s.origins);
  s.text += "</f>";
  const PlainLocale::Here here(s.plain);
  s.doc.load_buffer_inplace(s.text.data(), s.text.size(), pugi::parse_escapes, pugi::encoding_utf8);
  for (const pugi::xml_node node : s.doc.document_element().children()) s.nodes.push_back(node);
}

Verdict DataAsking::answer(std::size_t position, figure::Working* working) {
  State& s = *state_;
  if (position >= s.nodes.size()) return {};
  const PlainLocale::Here here(s.plain);
  return s.answer(s.nodes[position], working);
}

}  // namespace raceward::ruleset
