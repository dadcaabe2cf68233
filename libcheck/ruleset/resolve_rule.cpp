#include "ruleset/resolve_rule.hpp"

#include <algorithm>

#include "ruleset/data_program.hpp"

namespace raceward::ruleset {
namespace {

constexpr std::string_view blanks = " \t\r\n";

/// Texts of a rule, and the field that each was read from.
struct Written {
  const std::string* text;
  const Field* field;
  std::size_t from = 0;  ///< in the field
};

class Maker {
 public:
  Maker(const RuleFields& fields, const TextFile& file, LayerId layer, Problems& problems)
      : fields_(fields), file_(file), problems_(problems) {
    rule_.layer = layer;
  }

  std::optional<DataRule> make(const Parameters& parameters, const DeclaredFacts& declared,
                               const facts::Shapes& shapes) {
    const std::size_t before = problems_.size();
    texts();
    rule_.subject = facts::kind_of(fields_.subject.text);
    if (static_cast<std::uint8_t>(rule_.subject) >= subject_kind_count) {
      std::vector<std::string_view> words;
      for (std::uint8_t i = 0; i < subject_kind_count; ++i)
        words.push_back(facts::word_of(static_cast<SubjectKind>(i)));
      if (!fields_.subject.text.empty())
        problems_.add(file_, fields_.subject.offset,
                      "subject " + quoted(fields_.subject.text) + " is not known" +
                          suggestion(fields_.subject.text, words));
      return std::nullopt;
    }
    if (fields_.asserts.empty())
      problems_.add(file_, fields_.id.offset,
                    "rule " + quoted(rule_.id) + " has no <assert>; say what must hold");
    Names names;
    names.subject = &shapes.of(rule_.subject);
    names.parameter = [&](std::string_view name) {
      const auto found = parameters.find(name);
      return found == parameters.end() ? nullptr : &found->second;
    };
    for (const auto& [name, parameter] : parameters) names.parameters.push_back(name);
    names.fact = [&](std::string_view name) {
      const auto found = declared.find(name);
      return found == declared.end() ? nullptr : &found->second;
    };
    for (const auto& [name, fact] : declared) names.facts.push_back(name);
    names.may_lack = rule_.may_lack;
    for (const DataRuleFault& each : faults_of(rule_, names)) tell(each);
    if (problems_.size() != before) return std::nullopt;
    return std::move(rule_);
  }

 private:
  void texts() {
    rule_.id = fields_.id.text;
    rule_.title = fields_.title.text;
    rule_.why = fields_.why.text;
    rule_.place = file_.at(fields_.id.offset);
    list(fields_.needs, rule_.needs);
    list(fields_.may_lack, rule_.may_lack);
    // Room first: texts are known by where they are.
    rule_.whens.resize(fields_.whens.size());
    rule_.asserts.resize(fields_.asserts.size());
    for (std::size_t i = 0; i < rule_.whens.size(); ++i) {
      keep(fields_.whens[i].test, rule_.whens[i].test);
      keep(fields_.whens[i].reason, rule_.whens[i].reason);
    }
    for (std::size_t i = 0; i < rule_.asserts.size(); ++i) {
      keep(fields_.asserts[i].test, rule_.asserts[i].test);
      keep(fields_.asserts[i].measured, rule_.asserts[i].measured);
      keep(fields_.asserts[i].limit, rule_.asserts[i].limit);
      keep(fields_.asserts[i].message, rule_.asserts[i].message);
      keep(fields_.asserts[i].cure, rule_.asserts[i].cure);
    }
  }

  void keep(const Field& field, std::string& text) {
    text = field.text;
    written_.push_back({&text, &field, 0});
  }

  void list(const Field& field, std::vector<std::string>& out) {
    std::vector<std::size_t> from;
    for (std::size_t at = field.text.find_first_not_of(blanks); at != std::string::npos;) {
      const std::size_t end = std::min(field.text.find_first_of(blanks, at), field.text.size());
      out.push_back(field.text.substr(at, end - at));
      from.push_back(at);
      at = field.text.find_first_not_of(blanks, end);
    }
    for (std::size_t i = 0; i < out.size(); ++i) written_.push_back({&out[i], &field, from[i]});
  }

  void tell(const DataRuleFault& fault) {
    const auto found = std::find_if(written_.begin(), written_.end(),
                                    [&](const Written& w) { return w.text == fault.text; });
    const std::size_t at = found == written_.end()
                               ? fields_.id.offset
                               : within(file_, *found->field, found->from + fault.fault.offset);
    problems_.add(file_, at, fault.fault.message);
  }

  const RuleFields& fields_;
  const TextFile& file_;
  Problems& problems_;
  DataRule rule_;
  std::vector<Written> written_;
};

}  // namespace

std::size_t within(const TextFile& file, const Field& field, std::size_t at) {
  const std::string& bytes = file.bytes();
  std::size_t raw = bytes.find_first_of("\"'", field.offset);
  if (raw == std::string::npos) return field.offset;
  raw = bytes.find_first_not_of(blanks, raw + 1);
  while (raw < bytes.size() && at > 0) {
    // A reference is one character, and so are the two that end a line.
    if (bytes[raw] == '&')
      raw = std::min(bytes.find(';', raw), bytes.size() - 1) + 1;
    else
      raw += bytes.compare(raw, 2, "\r\n") == 0 ? 2 : 1;
    --at;
  }
  return std::min(raw, bytes.size());
}

std::optional<DataRule> data_rule(const RuleFields& fields, const TextFile& file, LayerId layer,
                                  const Parameters& parameters, const DeclaredFacts& declared,
                                  const facts::Shapes& shapes, Problems& problems) {
  return Maker(fields, file, layer, problems).make(parameters, declared, shapes);
}

}  // namespace raceward::ruleset
