// XML of a layer -> Layer. Form only: elements, attributes, what must be written and what may not.
#include <algorithm>
#include <initializer_list>
#include <pugixml.hpp>

#include "document/faults.hpp"
#include "document/strict.hpp"
#include "installation/bytes.hpp"
#include "ruleset/layer.hpp"

namespace raceward::ruleset {
namespace {

constexpr std::string_view our_namespace = "urn:raceward:ruleset:1";

struct Wanted {
  std::string_view name;
  Field* into;
  bool required;
};

/// What people write for what is said in other words here; else what is `near`.
std::string written_otherwise(std::string_view name, const std::string& near) {
  constexpr struct {
    std::string_view written, instead;
  } all[] = {
      {"exception",
       "; an exception is a <where> with its conditions and <uses rule=\"...\" force=\"off\"> in it"},
      {"exempt",
       "; an exemption is a <where> with its conditions and <uses rule=\"...\" force=\"off\"> in it"},
      {"is-not", "; write <unless><if ... is=\"...\"/></unless>"},
      {"not", "; write <unless><if ... is=\"...\"/></unless>"},
      {"contains", "; is= holds of each item of a list, and parts of a text are asked for in a <rule>"},
      {"equals", "; write is="},
      {"min", "; write at-least="},
      {"max", "; write at-most="},
  };
  for (const auto& each : all) {
    if (each.written == name) return std::string(each.instead);
  }
  return near;
}

class Reader {
 public:
  Reader(const TextFile& file, Problems& problems) : file_(file), problems_(problems) {}

  std::optional<Layer> read() {
    if (!well_formed()) return std::nullopt;
    pugi::xml_document doc;
    // The last two keep what would be dropped without a word: a DOCTYPE, and text beside the root.
    constexpr unsigned options = pugi::parse_default | pugi::parse_doctype | pugi::parse_fragment;
    const pugi::xml_parse_result result =
        doc.load_buffer(file_.bytes().data(), file_.bytes().size(), options, pugi::encoding_utf8);
    if (!result) {  // of what is well-formed: no element
      problem(static_cast<std::size_t>(result.offset),
              std::string("the file is no layer: ") + result.description());
      return std::nullopt;
    }
    const pugi::xml_node root = doc.document_element();
    if (!only_root(doc, root) || !ours(root)) return std::nullopt;

    Layer layer;
    attributes(root, {{"id", &layer.id, true},
                      {"title", &layer.title, true},
                      {"base", &layer.base, false},
                      {"units", &layer.units, false},
                      {"effective-from", &layer.effective_from, false},
                      {"effective-before", &layer.effective_before, false}});
    for (const pugi::xml_node node : root.children()) {
      if (problems_.full()) break;
      child(node, layer);
    }
    return layer;
  }

 private:
  /// pugixml takes bare ampersands and unknown references as they stand, and does not tell which tag is open.
  bool well_formed() {
    struct Nothing final : document::Taker {
      void root(document::Written&) override {}
      void children(document::Written&) override {}
    } nothing;
    if (trimmed(file_.bytes()).empty()) {
      problem(0, "the file is empty; a layer is one <ruleset>");
      return false;
    }
    const installation::Bytes bytes{std::string(file_.bytes())};
    std::vector<std::uint32_t> line_starts;
    installation::Texts texts;
    document::Faults faults;
    if (document::read_strictly(bytes, {line_starts, texts, faults}, nothing)) return true;
    for (Problem& p : std::move(faults).problems(file_.name(), line_starts))
      problems_.add(std::move(p.place), "the file is not well-formed XML: " + std::move(p.message));
    return false;
  }
  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }
  /// Where an element's name or a text begins.
  [[nodiscard]] std::size_t offset(pugi::xml_node node) const {
    const auto at = static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
    const std::size_t ink = file_.bytes().find_first_not_of(" \t\r\n", at);
    return ink == std::string::npos ? at : ink;
  }
  // pugixml keeps names where they stood in the file, so the distance of two names is that in the file.
  [[nodiscard]] std::size_t offset(pugi::xml_node node, pugi::xml_attribute attribute) const {
    return offset(node) + static_cast<std::size_t>(attribute.name() - node.name());
  }

  bool only_root(const pugi::xml_document& doc, pugi::xml_node root) {
    if (!root) {
      problem(0, "the file holds no element; a layer is a <ruleset>");
      return false;
    }
    for (const pugi::xml_node node : doc.children()) {
      if (node == root) continue;
      problem(offset(node), node.type() == pugi::node_doctype
                                ? "a DOCTYPE has no place in a layer"
                                : "nothing may stand beside the <ruleset> of a layer");
      return false;
    }
    return true;
  }

  bool ours(pugi::xml_node root) {
    if (std::string_view{root.name()} != "ruleset") {
      problem(offset(root), "the root is <" + std::string(root.name()) +
                                ">; a layer is a <ruleset xmlns=" + quoted(our_namespace) + ">");
      return false;
    }
    const pugi::xml_attribute space = root.attribute("xmlns");
    if (std::string_view{space.value()} == our_namespace) return true;
    problem(space ? offset(root, space) : offset(root),
            space ? "namespace " + quoted(space.value()) + " is not known here; this version reads " +
                        quoted(our_namespace)
                  : "the namespace is missing; write xmlns=" + quoted(our_namespace));
    return false;
  }

  void child(pugi::xml_node node, Layer& layer) {
    if (node.type() != pugi::node_element) {
      problem(offset(node), "text has no meaning here; values stand in attributes");
      return;
    }
    const std::string_view name = node.name();
    if (name == "document") {
      auto& d = layer.documents.emplace_back();
      attributes(node, {{"id", &d.id, true},
                        {"title", &d.title, true},
                        {"cited-as", &d.cited_as, false},
                        {"publisher", &d.publisher, false},
                        {"edition", &d.edition, false},
                        {"change", &d.change, false}});
      nothing_in(node);
    } else if (name == "source") {
      auto& s = layer.sources.emplace_back();
      attributes(node, {{"id", &s.id, true}, {"title", &s.title, true}});
      nothing_in(node);
    } else if (name == "fact") {
      auto& f = layer.facts.emplace_back();
      attributes(node, {{"name", &f.name, true},
                        {"of", &f.of, true},
                        {"value", &f.value, true},
                        {"words", &f.words, false},
                        {"title", &f.title, true}});
      nothing_in(node);
    } else if (name == "requires") {
      requirement(node, layer.requirements.emplace_back());
    } else if (name == "rule") {
      rule(node, layer.rules.emplace_back());
    } else if (name == "where") {
      where(node, layer.wheres.emplace_back());
    } else if (name == "renumbered") {
      auto& r = layer.renumbered.emplace_back();
      attributes(node, {{"from", &r.from, true},
                        {"to", &r.to, true},
                        {"document", &r.cite.document, false},
                        {"basis", &r.cite.basis, true},
                        {"source", &r.cite.source, false},
                        {"note", &r.cite.note, false}});
      nothing_in(node);
    } else if (!change(node, layer)) {
      problem(offset(node),
              "element " + quoted(name) + " is not known here" +
                  written_otherwise(name,
                                    suggestion(name, {"document", "source", "renumbered", "uses", "parameter",
                                                      "table", "fact", "requires", "rule", "where"})));
    }
  }

  /// <uses>, <parameter> or <table>, in a layer or under a condition of one.
  template <class Changes>
  bool change(pugi::xml_node node, Changes& layer) {
    const std::string_view name = node.name();
    if (name == "parameter") {
      auto& p = layer.parameters.emplace_back();
      attributes(node, {{"name", &p.name, true},
                        {"value", &p.value, false},
                        {"text", &p.text, false},
                        {"change", &p.change, false},
                        {"document", &p.cite.document, false},
                        {"section", &p.cite.section, false},
                        {"basis", &p.cite.basis, true},
                        {"source", &p.cite.source, false},
                        {"note", &p.cite.note, false}});
      if (p.value.written == p.text.written)
        problem(offset(node), "a parameter has either a value or a text");
      nothing_in(node);
    } else if (name == "table") {
      auto& t = layer.tables.emplace_back();
      attributes(node, {{"name", &t.name, true}, {"file", &t.file, true}, {"change", &t.change, false}});
      nothing_in(node);
    } else if (name == "uses") {
      uses(node, layer.uses.emplace_back());
    } else {
      return false;
    }
    return true;
  }

  void where(pugi::xml_node node, WhereFields& w) {
    w.offset = offset(node);
    attributes(node, {{"occupancy", &w.occupancy, false},
                      {"use", &w.use, false},
                      {"location", &w.location, false},
                      {"circuit", &w.circuit, false},
                      {"raceway", &w.raceway, false},
                      {"permit-from", &w.permit_from, false},
                      {"permit-before", &w.permit_before, false},
                      {"adopts", &w.adopts, false}});
    for (const pugi::xml_node child : node.children()) {
      if (problems_.full()) return;
      if (child.type() != pugi::node_element) {
        problem(offset(child), "text has no meaning here; values stand in attributes");
      } else if (is_condition(child.name())) {
        condition(child, w.conditions.emplace_back());
      } else if (!change(child, w)) {
        problem(offset(child),
                "element " + quoted(child.name()) + " is not known in <where>" +
                    written_otherwise(child.name(),
                                      suggestion(child.name(), {"if", "count", "any", "all", "unless", "uses",
                                                                "parameter", "table"})));
      }
    }
  }

  void citation(pugi::xml_node node, CitationFields& c) {
    attributes(node, {{"document", &c.document, false},
                      {"section", &c.section, false},
                      {"basis", &c.basis, true},
                      {"source", &c.source, false},
                      {"note", &c.note, false}});
    nothing_in(node);
  }

  void requirement(pugi::xml_node node, RequiresFields& r) {
    r.offset = offset(node);
    attributes(node, {{"id", &r.id, true},
                      {"subject", &r.subject, true},
                      {"title", &r.title, true},
                      {"why", &r.why, true},
                      {"message", &r.message, true},
                      {"cure", &r.cure, true},
                      {"force", &r.force, false},
                      {"change", &r.change, false}});
    for (const pugi::xml_node child : node.children()) {
      if (problems_.full()) return;
      const std::string_view name = child.name();
      if (name == "cite") {
        citation(child, r.cites.emplace_back());
      } else if (name == "given" || name == "must") {
        attributes(child, {});
        for (const pugi::xml_node part : child.children()) {
          if (is_condition(part.name()))
            condition(part, (name == "must" ? r.must : r.given).emplace_back());
          else
            problem(offset(part),
                    "<" + std::string(name) + "> holds <if>, <count>, <any>, <all> and <unless>");
        }
      } else {
        problem(offset(child), "<requires> holds <cite>, <given> and <must>");
      }
    }
    if (r.must.empty()) problem(r.offset, "<requires> says not what must hold; write it in <must>");
  }

  static bool is_condition(std::string_view name) {
    return name == "if" || name == "count" || name == "any" || name == "all" || name == "unless";
  }

  /// pugixml reads no deeper than memory; conditions need a few levels.
  void condition(pugi::xml_node node, ConditionFields& c, std::size_t depth = 0) {
    constexpr std::size_t most_depth = 8;
    c.element = node.name();
    c.offset = offset(node);
    if (c.element == "if") {
      attributes(node, {{"attribute", &c.attribute, false},
                        {"fact", &c.fact, false},
                        {"figure", &c.figure, false},
                        {"attested", &c.attested, false},
                        {"is", &c.is, false},
                        {"at-least", &c.at_least, false},
                        {"at-most", &c.at_most, false},
                        {"more-than", &c.more_than, false},
                        {"less-than", &c.less_than, false}});
      return nothing_in(node);
    }
    if (c.element == "count") {
      attributes(node, {{"of", &c.of, true},
                        {"is", &c.is, false},
                        {"at-least", &c.at_least, false},
                        {"at-most", &c.at_most, false},
                        {"more-than", &c.more_than, false},
                        {"less-than", &c.less_than, false}});
    } else {
      attributes(node, {});
    }
    for (const pugi::xml_node child : node.children()) {
      if (problems_.full()) return;
      if (!is_condition(child.name())) {
        problem(offset(child), "<" + c.element + "> holds <if>, <count>, <any>, <all> and <unless>");
      } else if (depth == most_depth) {
        problem(offset(child), "conditions stand too deep one within another");
      } else {
        condition(child, c.parts.emplace_back(), depth + 1);
      }
    }
    if (c.parts.empty() && c.element != "count") problem(c.offset, "<" + c.element + "> holds no condition");
  }

  void uses(pugi::xml_node node, UsesFields& u) {
    attributes(node, {{"rule", &u.rule, true}, {"force", &u.force, false}, {"change", &u.change, false}});
    for (const pugi::xml_node child : node.children()) {
      if (problems_.full()) return;
      if (std::string_view{child.name()} != "cite") {
        problem(offset(child),
                child.type() == pugi::node_element
                    ? "element " + quoted(child.name()) + " is not known in <uses>; it holds <cite>"
                    : std::string("text has no meaning here; values stand in attributes"));
        continue;
      }
      citation(child, u.cites.emplace_back());
    }
  }

  void rule(pugi::xml_node node, RuleFields& r) {
    attributes(node, {{"id", &r.id, true},
                      {"subject", &r.subject, true},
                      {"title", &r.title, true},
                      {"why", &r.why, true},
                      {"force", &r.force, false},
                      {"change", &r.change, false},
                      {"needs", &r.needs, false},
                      {"may-lack", &r.may_lack, false}});
    for (const pugi::xml_node child : node.children()) {
      if (problems_.full()) return;
      const std::string_view name = child.name();
      if (child.type() != pugi::node_element) {
        problem(offset(child), "text has no meaning here; values stand in attributes");
      } else if (name == "cite") {
        citation(child, r.cites.emplace_back());
      } else if (name == "when") {
        auto& w = r.whens.emplace_back();
        attributes(child, {{"test", &w.test, true}, {"reason", &w.reason, true}});
        nothing_in(child);
      } else if (name == "assert") {
        auto& a = r.asserts.emplace_back();
        attributes(child, {{"test", &a.test, true},
                           {"measured", &a.measured, false},
                           {"limit", &a.limit, false},
                           {"message", &a.message, true},
                           {"cure", &a.cure, true}});
        nothing_in(child);
      } else {
        problem(offset(child), "element " + quoted(name) +
                                   " is not known in <rule>; it holds <cite>, <when> and <assert>" +
                                   suggestion(name, {"cite", "when", "assert"}));
      }
    }
  }

  void nothing_in(pugi::xml_node node) {
    for (const pugi::xml_node child : node.children()) {
      problem(offset(child),
              "nothing may stand inside <" + std::string(node.name()) + ">; its values are attributes");
      return;
    }
  }

  // What a schema-aware editor writes on the root and what XML itself reserves is no business of ours.
  static bool is_markup(std::string_view name) {
    return name == "xmlns" || name.starts_with("xmlns:") || name.starts_with("xsi:") ||
           name.starts_with("xml:");
  }

  void attributes(pugi::xml_node node, std::initializer_list<Wanted> wanted) {
    for (const Wanted& w : wanted) w.into->offset = offset(node);
    for (const pugi::xml_attribute attribute : node.attributes()) {
      if (problems_.full()) return;
      const std::string_view name = attribute.name();
      if (is_markup(name) && node.parent().type() == pugi::node_document) continue;
      const Wanted* match = nullptr;
      for (const Wanted& w : wanted) {
        if (w.name == name) match = &w;
      }
      const std::size_t at = offset(node, attribute);
      if (match == nullptr) {
        std::vector<std::string_view> names;
        for (const Wanted& w : wanted) names.push_back(w.name);
        problem(at, "attribute " + quoted(name) + " is not known on <" + node.name() + ">" +
                        written_otherwise(name, suggestion(name, names)));
      } else if (match->into->written) {
        problem(at, "attribute " + quoted(name) + " stands twice on <" + node.name() + ">");
      } else {
        *match->into = {std::string(trimmed(attribute.value())), at, true};
        if (match->into->text.empty())
          problem(at, "attribute " + quoted(name) + " is empty; leave it out or write its value");
      }
    }
    for (const Wanted& w : wanted) {
      if (w.required && !w.into->written) {
        problem(offset(node), "<" + std::string(node.name()) + "> has no " + quoted(w.name) +
                                  "; it needs one" +
                                  (w.name == "basis" ? ": read, derived, memory or common-practice" : ""));
      }
    }
  }

  const TextFile& file_;
  Problems& problems_;
};

}  // namespace

std::optional<Layer> read_layer(const TextFile& file, Problems& problems) {
  if (!plain_text(file, problems)) return std::nullopt;
  return Reader(file, problems).read();
}

}  // namespace raceward::ruleset
