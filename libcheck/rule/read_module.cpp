// What a module says of itself, looked over before anything of it is used.
#include <algorithm>
#include <cstring>

#include "rule/compiled_module.hpp"

namespace raceward::rule {

namespace {

/// What nobody writes by hand: a text or a list that is longer is rubbish.
constexpr std::size_t longest_text = 4096, longest_list = 256, most_rules = 10'000;

/// A module of version 1.0 has rules up to here.
constexpr std::size_t oldest_rule = offsetof(raceward_rule, unseen);

/// One line: nothing in it moves a cursor.
bool is_line(std::string_view text) {
  return std::none_of(text.begin(), text.end(), [](char c) { return (c >= 0 && c < ' ') || c == '\x7f'; });
}

std::string version_of(unsigned major, unsigned minor) {
  return std::to_string(major) + "." + std::to_string(minor);
}

/// Copies texts, and says what is wrong with the first that is wrong.
class Texts {
 public:
  explicit Texts(Module& module) : module_(module) {}

  std::string_view line(const raceward_text& text, const char* what, bool may_be_empty = false) {
    if (text.size == 0 && !may_be_empty) return wrong(std::string("it has no ") + what);
    if (text.size == 0) return {};
    if (text.bytes == nullptr || text.size > longest_text || !is_line({text.bytes, text.size}))
      return wrong(std::string("its ") + what + " is no line of text");
    return module_.keep(std::string(text.bytes, text.size));
  }

  std::span<const std::string_view> list(const raceward_text* texts, std::size_t count, const char* what) {
    if (count > longest_list || (count > 0 && texts == nullptr)) {
      wrong(std::string("its list of ") + what + "s makes no sense");
      return {};
    }
    std::vector<std::string_view> out;
    for (std::size_t i = 0; i < count; ++i) out.push_back(line(texts[i], what));
    return module_.keep(std::move(out));
  }

  std::string_view wrong(std::string what) {
    if (wrong_.empty()) wrong_ = std::move(what);
    return {};
  }
  [[nodiscard]] const std::string& wrong() const { return wrong_; }

 private:
  Module& module_;
  std::string wrong_;
};

bool is_id(std::string_view id) {
  return std::all_of(id.begin(), id.end(),
                     [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
}

constexpr std::string_view filled_in[] = {"{where}", "{place}", "{measured}", "{limit}", "{detail}"};

/// What a sentence puts in and nothing fills in, such as "{mesured}"; empty where all of it is filled in.
std::string_view unfilled(std::string_view sentence) {
  for (std::size_t at = sentence.find('{'); at < sentence.size(); at = sentence.find('{', at + 1)) {
    const std::string_view token = sentence.substr(at, sentence.find('}', at) - at + 1);
    const auto is = [token](std::string_view known) { return token == known; };
    if (std::ranges::none_of(filled_in, is)) return token;
  }
  return {};
}

/// What is wrong with the rule; empty where it is added to the module.
std::string read_rule(const raceward_rule* theirs, Module& module) {
  if (theirs == nullptr) return "it is not there";
  if (theirs->size < oldest_rule) return "it is smaller than a rule can be";
  // An older module knows less than we do: the rest stays empty.
  raceward_rule known{};
  std::memcpy(&known, theirs, std::min(theirs->size, sizeof(known)));
  Texts texts(module);
  Rule rule;
  rule.id = texts.line(known.id, "id");
  if (!is_id(rule.id)) texts.wrong("its id is not made of lower-case letters, digits and \"-\"");
  rule.title = texts.line(known.title, "title");
  rule.why = texts.line(known.why, "reason why");
  rule.cure = texts.line(known.cure, "cure");
  rule.unseen = texts.line(known.unseen, "sentence on what it does not judge", true);
  rule.figures = texts.list(known.figures, known.figure_count, "figure");
  rule.parameters = texts.list(known.parameters, known.parameter_count, "parameter");
  rule.messages = texts.list(known.messages, known.message_count, "message");
  for (const std::string_view message : rule.messages) {
    const std::string_view token = unfilled(message);
    if (!token.empty())
      texts.wrong("nothing fills in " + std::string(token) +
                  " of its message; write {where}, {place}, {measured}, {limit} or {detail}");
  }
  rule.reasons = texts.list(known.reasons, known.reason_count, "reason");
  if (known.judge == nullptr) texts.wrong("it has no function that judges");
  if (known.subject >= subject_kind_count) texts.wrong("it is about an unknown kind of subject");
  if (!texts.wrong().empty()) return (rule.id.empty() ? "" : std::string(rule.id) + ": ") + texts.wrong();
  rule.subject = static_cast<SubjectKind>(known.subject);
  rule.compiled = &module.keep(CompiledRule(*theirs, module.info));
  module.rules.push_back(rule);
  return {};
}

ReadModule refused(std::string why) { return {nullptr, {std::move(why)}}; }

/// Empty where versions fit.
std::string misfit(const raceward_module& entry) {
  if (std::memcmp(entry.magic, RACEWARD_MAGIC, sizeof(entry.magic)) != 0)
    return "it is no module of Raceward: its raceward_entry does not begin as one does";
  const std::string built = "it was built for module interface " +
                            version_of(entry.abi_major, entry.abi_minor) + ", and Raceward " +
                            std::string(version()) + " has " +
                            version_of(RACEWARD_ABI_MAJOR, RACEWARD_ABI_MINOR);
  if (entry.abi_major != RACEWARD_ABI_MAJOR) return built + ": it must be built anew";
  if (entry.abi_minor > RACEWARD_ABI_MINOR) return built + ": use a newer Raceward, or build it anew";
  return {};
}

}  // namespace

ReadModule read_module(const raceward_module& entry, std::size_t room, std::string file) {
  if (room < offsetof(raceward_module, name))
    return refused("it is no module of Raceward: its entry is cut off");
  if (std::string why = misfit(entry); !why.empty()) return refused(std::move(why));
  if (entry.size < sizeof(raceward_module) || room < sizeof(raceward_module))
    return refused("its raceward_entry is smaller than one can be");

  auto module = std::make_shared<Module>();
  Texts texts(*module);
  module->info.file = std::move(file);
  module->info.name = texts.line(entry.name, "name");
  module->info.version = texts.line(entry.version, "version");
  module->info.about = texts.line(entry.about, "sentence about itself", true);
  module->info.interface = version_of(entry.abi_major, entry.abi_minor);
  if (entry.rule == nullptr) texts.wrong("it has no function that tells its rules");
  if (entry.rule_count > most_rules)
    texts.wrong("it says that it has " + std::to_string(entry.rule_count) + " rules");
  if (entry.rule_count == 0) texts.wrong("it has no rules");
  if (!texts.wrong().empty()) return refused(texts.wrong());

  if (entry.accepts != nullptr) {
    const raceward_host host{
        sizeof(host), RACEWARD_ABI_MAJOR, RACEWARD_ABI_MINOR, {version().data(), version().size()}};
    raceward_text why{nullptr, 0};
    if (entry.accepts(&host, &why) != 0) {
      const bool said =
          why.bytes != nullptr && why.size > 0 && why.size <= longest_text && is_line({why.bytes, why.size});
      return refused("it refuses this Raceward" + (said ? ": " + std::string(why.bytes, why.size) : ""));
    }
  }
  ReadModule read{std::move(module), {}};
  for (std::uint32_t i = 0; i < entry.rule_count; ++i) {
    const std::string wrong = read_rule(entry.rule(i), *read.module);
    if (!wrong.empty())
      read.problems.push_back("its rule " + std::to_string(i + 1) + " is left out: " + wrong);
  }
  return read;
}

}  // namespace raceward::rule
