#include "facts/writer.hpp"

#include <algorithm>
#include <charconv>

#include "document/reader.hpp"
#include "facts/start_tag.hpp"
#include "facts/stated.hpp"

namespace raceward::facts {

using document::Element;
using Form = Holds::Form;

namespace {

struct OnlyWhere {
  figure::Id figure, count;
  std::int64_t least;
};
constexpr OnlyWhere only_where[] = {
    {figure::Id::tightest_bend_margin, figure::Id::field_bends, 1},
    {figure::Id::tightest_bend_radius, figure::Id::field_bends, 1},
    {figure::Id::tightest_bend_radius_needed, figure::Id::field_bends, 1},
    {figure::Id::support_gap, figure::Id::support_count, 2},  // not law: two make a gap
    {figure::Id::pull_dimension, figure::Id::large_pulls, 1},
    {figure::Id::pull_dimension_needed, figure::Id::large_pulls, 1},
    {figure::Id::entry_spacing, figure::Id::angle_pulls, 1},
    {figure::Id::entry_spacing_needed, figure::Id::angle_pulls, 1},
};

void append_number(std::string& out, std::int64_t n) {
  char digits[24];
  const auto [end, error] = std::to_chars(std::begin(digits), std::end(digits), n);
  out.append(digits, end);
}

/// Of a quantity "at" several kinds of places may write three lengths.
bool is_position(Element element) {
  return element == Element::panel || element == Element::box || element == Element::conduit_body ||
         element == Element::equipment || element == Element::joint || element == Element::point;
}

}  // namespace

bool measures_something(figure::Evaluation& e, figure::Id id, Subject subject) {
  for (const OnlyWhere& each : only_where) {
    if (each.figure != id) continue;
    const figure::Value count = e.get(each.count, subject);
    return count.missing != 0 || count.count >= number(each.least).count();
  }
  return true;
}

Wanted everything(const Shape& shape, const Law& law) {
  Wanted out;
  for (const FactRow& row : shape.facts) out.facts.push_back(&row);
  out.figures = shape.figures;
  for (const DeclaredFact& fact : law.facts) {
    if (shape.is_stated_of && fact.of == shape.subject) out.stated.push_back(&fact);
  }
  for (const ChildRow& row : shape.children) out.parts.push_back({&row, everything(*row.shape, law)});
  return out;
}

void Writer::attribute(std::string_view name, std::string_view value) {
  *out_ += ' ';
  *out_ += name;
  *out_ += "=\"";
  append_escaped(*out_, value);
  *out_ += '"';
}

void Writer::amount(std::string_view name, const Holds& holds, std::int64_t count) {
  std::string& out = *out_;
  if (holds.form != Form::number && (count > largest_exact || count < -largest_exact)) return;
  out += ' ';
  out += name;
  out += "=\"";
  if (holds.form == Form::number)
    out += decimal_of({count, Unit::one});
  else
    append_number(out, count);
  out += '"';
  if (origins_ != nullptr || (holds.form != Form::amount && holds.form != Form::share)) return;
  out += " said:";
  out += name;
  out += "=\"";
  out += text_of({count, holds.unit});
  out += '"';
}

void Writer::fact(const FactRow& row, std::string_view value) {
  switch (row.holds.form) {
    case Form::count: {
      std::int64_t count = 0;
      const std::string_view digits = trimmed(value);
      std::from_chars(digits.data(), digits.data() + digits.size(), count);
      return amount(row.name, row.holds, count);
    }
    case Form::amount: {
      const Parsed<Amount> parsed = parse_amount(value, row.holds.dimension);
      if (parsed) amount(row.name, row.holds, parsed->count);
      return;
    }
    default:
      return attribute(row.name, trimmed(value));
  }
}

/// What the document does not write in so many words.
void Writer::derived(const Node& node, const Wanted& wanted) {
  const installation::Model& model = e_.model;
  for (std::size_t i = 0; i < wanted.facts.size(); ++i) {
    const FactRow& row = *wanted.facts[i];
    if (done_[i] != 0) continue;
    if (node.element == Element::unknown && node.subject.kind == SubjectKind::pull_section) {
      const auto& section = e_.in.sections.sections[node.index];
      if (row.name == "id") {
        attribute(row.name, installation::id_of(model, e_.in.sections, node.subject));
      } else {
        const installation::Index end = section.ends[row.name == "from" ? 0 : 1];
        if (end != installation::none) attribute(row.name, model.places[end].id);
      }
    } else if (node.element == Element::end && row.name == "side") {
      attribute(row.name, node.index == 0 ? "from" : "to");
    } else if (node.element == Element::end && row.name == "place") {
      attribute(row.name, model.places[model.raceways[node.subject.index].ends[node.index].place].id);
    } else if (row.name == "element") {
      attribute(row.name, document::row_of(node.element).name);
    } else if (node.element == Element::conductor && row.name == "circuit") {
      attribute(row.name, model.circuits[model.conductors[node.index].circuit].id);
    } else if (node.element == Element::wiring && row.name == "kind") {
      attribute(row.name, "other");
    } else if (node.element == Element::circuit && row.name == "system") {
      attribute(row.name, "power");  // of others there is only wiring outside any circuit
    } else if (!row.otherwise.empty()) {
      attribute(row.name, row.otherwise);
    }
  }
}

void Writer::facts(const Node& node, const Wanted& wanted) {
  if (wanted.facts.empty()) return;
  done_.assign(wanted.facts.size(), 0);
  if (node.source != 0 && node.element != Element::unknown) {
    for (StartTag tag(e_.model, node.source); tag.next();) {
      if (tag.name() == "at" && is_position(node.element)) {
        std::string_view rest = tag.value();
        for (const std::string_view axis : {"x", "y", "z"}) {
          const std::string_view length = document::take_word(rest);
          for (std::size_t i = 0; i < wanted.facts.size(); ++i) {
            if (wanted.facts[i]->name != axis) continue;
            done_[i] = 1;
            fact(*wanted.facts[i], length);
          }
        }
        continue;
      }
      for (std::size_t i = 0; i < wanted.facts.size(); ++i) {
        if (wanted.facts[i]->name != tag.name()) continue;
        done_[i] = 1;
        fact(*wanted.facts[i], tag.value());
        break;
      }
    }
  }
  derived(node, wanted);
}

void Writer::missing(const figure::Info& info, const FiguresUnder::Told& told) {
  for (const figure::Fact* fact : told.in->missing.facts(told.value.missing)) {
    *out_ += "<missing";
    attribute("figure", info.name);
    attribute("fact", fact->name);
    attribute("of", installation::id_of(e_.model, e_.in.sections, fact->element));
    if (!fact->why.empty()) attribute("why", fact->why);
    *out_ += "/>";
  }
}

void Writer::figures(Subject subject, const Wanted& wanted) {
  if (wanted.figures.empty()) return;
  std::string& out = *out_;
  std::vector<std::pair<const figure::Info*, FiguresUnder::Told>> unknown;
  out += "<figures";
  for (const figure::Info* info : wanted.figures) {
    if (!measures_something(e_, info->id, subject)) continue;
    const FiguresUnder::Told told = under_ == nullptr ? FiguresUnder::Told{e_.get(info->id, subject), &e_}
                                                      : under_->of(info->id, subject, about_);
    if (told.value.missing == 0)
      amount(info->name, holds_of(info->unit), told.value.count);
    else if (origins_ == nullptr)
      unknown.emplace_back(info, told);
  }
  out += "/>";
  for (const auto& [info, told] : unknown) missing(*info, told);
}

void Writer::stated(Subject subject, const Wanted& wanted) {
  if (wanted.stated.empty()) return;
  *out_ += "<stated";
  for (const DeclaredFact* fact : wanted.stated) {
    const Stated::Value value = stated_in(e_).of(*fact, subject);
    if (value.text.empty()) continue;
    if (fact->kind == DeclaredFact::Kind::quantity)
      amount(fact->name, holds_of(fact->unit), value.count);
    else
      attribute(fact->name, value.text);
  }
  *out_ += "/>";
}

void Writer::element(const Node& node, std::string_view name, const Wanted& wanted) {
  std::string& out = *out_;
  out += '<';
  out += name;
  std::size_t origin = 0;
  if (origins_ != nullptr) {
    origin = origins_->size();
    origins_->push_back({node, {}});
    out += " _=\"";
    append_number(out, static_cast<std::int64_t>(origin));
    out += '"';
  }
  const bool root = level_ == 0 && node.element == Element::installation && origins_ == nullptr;
  if (root) {
    attribute("xmlns", facts_namespace);
    attribute("xmlns:said", said_namespace);
    attribute("under", ruleset_);
  }
  facts(node, wanted);
  if (wanted.figures.empty() && wanted.stated.empty() && wanted.parts.empty()) {
    out += "/>";
    return;
  }
  out += '>';
  ++level_;
  figures(node.subject, wanted);
  stated(node.subject, wanted);
  parts(node, origin, wanted);
  --level_;
  if (root) out += '\n';
  out += "</";
  out += name;
  out += '>';
}

void Writer::parts(const Node& node, std::size_t origin, const Wanted& wanted) {
  std::vector<Node> nodes;
  for (const Wanted::Part& part : wanted.parts) {
    nodes.clear();
    const Knowledge knowledge = joins_.children(node, *part.row, nodes);
    if (origins_ != nullptr && !knowledge.known)
      (*origins_)[origin].unknown.push_back({part.row, knowledge.missing});
    for (const Node& each : nodes) {
      if (level_ == 1 && origins_ == nullptr) {
        *out_ += "\n  ";
        about_ = each.subject;
      }
      element(each, part.row->name, part.of);
    }
  }
}

void Writer::write_document(const Shape& whole, std::string_view ruleset, FiguresUnder& figures,
                            std::string& out) {
  out_ = &out;
  origins_ = nullptr;
  ruleset_ = ruleset;
  under_ = &figures;
  about_ = {SubjectKind::installation, 0};
  element(joins_.node({SubjectKind::installation, 0}), whole.name, everything(whole, e_.law));
  under_ = nullptr;
  out += '\n';
}

void Writer::write(Subject subject, const Wanted& wanted, std::string& out, std::vector<Origin>* origins) {
  out_ = &out;
  origins_ = origins;
  element(joins_.node(subject), word_of(subject.kind), wanted);
}

}  // namespace raceward::facts
