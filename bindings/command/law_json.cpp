#include "law_json.hpp"

#include <algorithm>
#include <span>

#include "suite/json.hpp"

namespace raceward::command {

namespace {

const char* name_of(Column::Kind kind) {
  switch (kind) {
    case Column::Kind::key:
      return "key";
    case Column::Kind::quantity:
      return "quantity";
    case Column::Kind::text:
      return "text";
  }
  return "text";
}

const char* name_of(DeclaredFact::Kind kind) {
  switch (kind) {
    case DeclaredFact::Kind::word:
      return "word";
    case DeclaredFact::Kind::yes_no:
      return "yes-no";
    case DeclaredFact::Kind::quantity:
      return "quantity";
    case DeclaredFact::Kind::date:
      return "date";
  }
  return "word";
}

/// Citations stand once each, and are named by their number: a table of a hundred rows has few.
class Writing {
 public:
  explicit Writing(const Law& law) : law_(law) {}

  std::string whole(const std::vector<Remark>& remarks, const Table* only) {
    json_.begin_object();
    json_.number("format", 1);
    json_.text("raceward", version());
    json_.text("id", law_.id);
    json_.text("title", law_.title);
    json_.texts("layers", law_.layers);
    if (only != nullptr) {
      json_.begin_array("tables");
      table(*only);
      json_.end_array();
      json_.begin_array("conditions");
      for (const Scope& s : law_.scopes) {
        for (const Table& t : s.tables) {
          if (t.name == only->name) condition(s, {}, {}, {&t, 1});
        }
      }
      json_.end_array();
    } else {
      everything(remarks);
    }
    citations();
    json_.end_object();
    return json_.take();
  }

 private:
  void everything(const std::vector<Remark>& remarks) {
    json_.truth("metric", law_.metric);
    each("periods", law_.periods, [&](const LayerPeriod& p) {
      json_.text("layer", p.layer);
      json_.text("from", p.from);
      json_.text("before", p.before);
    });
    rules(law_.rules);
    parameters(law_.parameters);
    tables(law_.tables);
    each("facts", law_.facts, [&](const DeclaredFact& f) { fact(f); });
    each("requirements", law_.requirements, [&](const Requirement& r) {
      own(r);
      json_.text("where", r.given_words);
      json_.text("must_hold", r.must_words);
      json_.text("message", r.message);
      json_.text("cure", r.cure);
    });
    each("data_rules", law_.data_rules, [&](const DataRule& r) { data_rule(r); });
    json_.begin_array("conditions");
    for (const Scope& s : law_.scopes) condition(s, s.rules, s.parameters, s.tables);
    json_.end_array();
    each("remarks", remarks, [&](const Remark& r) {
      json_.text("message", r.message);
      place(r.place);
    });
  }

  template <class List, class Write>
  void each(const char* key, const List& list, const Write& write) {
    json_.begin_array(key);
    for (const auto& item : list) {
      json_.begin_object();
      write(item);
      json_.end_object();
    }
    json_.end_array();
  }

  void set_by(LayerId layer) { json_.text("layer", law_.layers[layer]); }
  void place(const Place& at) {
    json_.begin_object("place");
    json_.text("file", at.file);
    json_.number("line", at.line);
    json_.number("column", at.column);
    json_.end_object();
  }
  std::size_t number_of(CitationId id) {
    const auto at = std::find(cited_.begin(), cited_.end(), id);
    if (at != cited_.end()) return static_cast<std::size_t>(at - cited_.begin());
    cited_.push_back(id);
    return cited_.size() - 1;
  }
  void cite(CitationId id) {
    if (id == no_citation) return json_.nothing("cite");
    json_.number("cite", number_of(id));
  }

  void rules(std::span<const RuleSetting> list) {
    each("rules", list, [&](const RuleSetting& r) {
      json_.text("rule", r.rule);
      json_.text("force", raceward::name_of(r.force));
      set_by(r.layer);
      place(r.place);
      json_.begin_array("cites");
      for (const CitationId id : r.cites) json_.number(nullptr, number_of(id));
      json_.end_array();
    });
  }

  void parameters(std::span<const Parameter> list) {
    each("parameters", list, [&](const Parameter& p) {
      json_.text("name", p.name);
      json_.text("value", p.text);
      json_.text("in_place_of", p.replaces);
      set_by(p.layer);
      place(p.place);
      cite(p.cite);
    });
  }

  void condition(const Scope& s, std::span<const RuleSetting> settings, std::span<const Parameter> values,
                 std::span<const Table> rows) {
    json_.begin_object();
    json_.text("where", s.words);
    set_by(s.layer);
    place(s.place);
    json_.text("adopts", s.adopts == nullptr ? "" : s.adopts->id);
    rules(settings);
    parameters(values);
    tables(rows);
    json_.end_object();
  }

  void tables(std::span<const Table> list) {
    json_.begin_array("tables");
    for (const Table& t : list) table(t);
    json_.end_array();
  }

  void table(const Table& t) {
    json_.begin_object();
    json_.text("name", t.name);
    json_.text("file", t.place.file);
    each("columns", t.columns, [&](const Column& c) {
      json_.text("name", c.name);
      json_.text("kind", name_of(c.kind));
      json_.text("unit", c.kind == Column::Kind::quantity ? symbol_of(c.unit) : std::string_view{});
    });
    json_.begin_array("rows");
    for (std::uint32_t row = 0; row < t.row_count(); ++row) {
      json_.begin_object();
      json_.texts("cells", cells(t, row));
      set_by(t.layer(row));
      cite(t.cite(row));
      json_.end_object();
    }
    json_.end_array();
    each("removed", t.removed, [&](const Table::Removed& r) {
      json_.texts("keys", r.keys);
      set_by(r.layer);
      cite(r.cite);
    });
    json_.end_object();
  }

  /// As they are written: exact decimals; nothing where the row says nothing.
  static std::vector<std::string> cells(const Table& t, std::uint32_t row) {
    std::vector<std::string> out;
    for (std::uint32_t i = 0; i < t.columns.size(); ++i) {
      const Column& c = t.columns[i];
      const std::int64_t count = t.count(row, i);
      out.emplace_back(c.kind == Column::Kind::key    ? std::string(t.key(row, i))
                       : c.kind == Column::Kind::text ? std::string(t.text(row, i))
                       : count == Table::blank        ? std::string{}
                                                      : text_of(Amount{count, c.unit}));
    }
    return out;
  }

  void fact(const DeclaredFact& f) {
    json_.text("name", f.name);
    json_.text("title", f.title);
    json_.text("of", raceward::name_of(f.of));
    json_.text("kind", name_of(f.kind));
    json_.text("unit", f.kind == DeclaredFact::Kind::quantity ? symbol_of(f.unit) : std::string_view{});
    json_.texts("words", f.words);
    set_by(f.layer);
    place(f.place);
  }

  template <class Own>
  void own(const Own& o) {
    json_.text("id", o.id);
    json_.text("title", o.title);
    json_.text("why", o.why);
    json_.text("of", raceward::name_of(o.subject));
    set_by(o.layer);
    place(o.place);
  }

  void data_rule(const DataRule& r) {
    own(r);
    json_.texts("needs", r.needs);
    json_.texts("may_lack", r.may_lack);
    each("when", r.whens, [&](const DataRule::When& w) {
      json_.text("test", w.test);
      json_.text("reason", w.reason);
    });
    each("must_hold", r.asserts, [&](const DataRule::Assert& a) {
      json_.text("test", a.test);
      json_.text("measured", a.measured);
      json_.text("limit", a.limit);
      json_.text("message", a.message);
      json_.text("cure", a.cure);
    });
  }

  void citations() {
    each("citations", cited_, [&](CitationId id) {
      const Citation& c = law_.citation(id);
      json_.text("document", c.document);
      json_.text("edition", c.edition);
      json_.text("section", c.section);
      json_.text("basis", raceward::name_of(c.basis));
      json_.text("source", c.source);
      json_.text("note", c.note);
      json_.text("inherited", c.inherited);
    });
  }

  const Law& law_;
  suite::Json json_;
  std::vector<CitationId> cited_;
};

}  // namespace

std::string json_of(const std::vector<RulesetInfo>& rulesets) {
  suite::Json json;
  json.begin_object();
  json.number("format", 1);
  json.text("raceward", version());
  json.begin_array("rulesets");
  for (const RulesetInfo& info : rulesets) {
    json.begin_object();
    json.text("id", info.id);
    json.text("title", info.title);
    json.text("document", info.document);
    json.text("edition", info.edition);
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

std::string json_of(const Law& law, const std::vector<Remark>& remarks, const Table* only) {
  return Writing(law).whole(remarks, only);
}

}  // namespace raceward::command
