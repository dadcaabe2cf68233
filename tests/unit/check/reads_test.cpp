// Figures say what they read, and reports say by it what nobody read. So each attribute and element of the
// fixtures is taken away and changed in turn: whatever figure comes out otherwise must have said that it
// reads it.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <numeric>
#include <pugixml.hpp>
#include <set>
#include <sstream>

#include "check/subjects.hpp"
#include "check/unread.hpp"
#include "document/vocabulary.hpp"
#include "raceward/engine.hpp"
#include "support/documents.hpp"
#include "unit/document/everything.hpp"

namespace {

using namespace raceward;
namespace fs = std::filesystem;

/// What a verdict can depend on: of each subject what each figure is, or what it lacks.
struct Said {
  std::map<SubjectKind, std::vector<std::string>> ids;
  std::vector<std::vector<std::size_t>> figures;  ///< hashes, by figure, then as the ids of its subjects
};

std::size_t said_of(const figure::Evaluation& e, const figure::Value& value) {
  if (value) return std::hash<std::int64_t>{}(value.count);
  std::multiset<std::string_view> lacks;
  for (const figure::Fact* fact : e.missing.facts(value.missing)) lacks.insert(fact->name);
  std::string text = "?";
  for (const std::string_view fact : lacks) text.append(" ").append(fact);
  return std::hash<std::string>{}(text);
}

Said said_of(const Installation& in, const Law& law, const std::shared_ptr<figure::LawNotes>& notes) {
  Said said;
  std::map<SubjectKind, std::vector<Subject>> subjects;
  figure::Evaluation e(in, law, notes);
  for (const figure::Info& info : figure::all()) {
    const auto [of, is_new] = subjects.try_emplace(info.subject);
    if (is_new) {
      of->second = checking::subjects_of(in, info.subject);
      for (const Subject s : of->second)
        said.ids[info.subject].push_back(installation::id_of(in.model, in.sections, s));
    }
    std::vector<std::size_t>& values = said.figures.emplace_back();
    for (const Subject subject : of->second) values.push_back(said_of(e, e.get(info.id, subject)));
  }
  return said;
}

std::string text_of(const pugi::xml_document& document) {
  std::ostringstream out;
  document.save(out, "", pugi::format_raw);
  return out.str();
}

/// Figures of which something is said otherwise, of subjects that are there in both.
std::set<std::string_view> changed(const Said& before, const Said& after) {
  std::set<std::string_view> out;
  for (const figure::Info& info : figure::all()) {
    const auto figure = static_cast<std::size_t>(info.id);
    const auto at = before.ids.find(info.subject), now = after.ids.find(info.subject);
    if (at == before.ids.end() || now == after.ids.end()) continue;
    if (at->second == now->second) {
      if (before.figures[figure] != after.figures[figure]) out.insert(info.name);
      continue;
    }
    for (std::size_t i = 0; i < now->second.size(); ++i) {
      const auto same = std::find(at->second.begin(), at->second.end(), now->second[i]);
      if (same == at->second.end()) continue;
      const auto position = static_cast<std::size_t>(same - at->second.begin());
      if (before.figures[figure][position] != after.figures[figure][i]) out.insert(info.name);
    }
  }
  return out;
}

void collect(const pugi::xml_node& node, std::string_view element, std::vector<pugi::xml_node>& out) {
  for (const pugi::xml_node& child : node.children()) {
    if (child.name() == element) out.push_back(child);
    collect(child, element, out);
  }
}

std::vector<pugi::xml_node> all_of(const pugi::xml_node& document, std::string_view element) {
  std::vector<pugi::xml_node> out;
  collect(document, element, out);
  return out;
}

using document::AttributeRow;
using document::Form;

/// Another value of the same form; the same value where there is none at hand. `turn` makes several different
/// ones.
std::string another(const std::string& value, const AttributeRow& row, std::size_t turn) {
  if (row.form.kind == Form::Kind::words || row.form.kind == Form::Kind::insulations) {
    const auto terms = row.form.words->terms;
    const std::size_t now = row.form.words->find(value);
    return std::string(terms[(now + turn) % terms.size()].spelling);
  }
  if (row.form.kind == Form::Kind::text) return value + "x";
  std::string out = value;
  const std::size_t digit = out.find_first_of("0123456789");
  if (digit != std::string::npos) out[digit] = static_cast<char>('1' + (out[digit] - '0' + turn) % 9);
  return out;
}

/// Elements and attributes of the document, "raceway" and "raceway@type", without those that are always read.
std::set<std::string> words_of(const pugi::xml_node& node) {
  std::set<std::string> words;
  for (const pugi::xml_node& child : node.children()) {
    if (child.type() != pugi::node_element) continue;
    const std::string element = child.name();
    if (element != "installation") words.insert(element);
    for (const pugi::xml_attribute& attribute : child.attributes()) {
      const std::string name = attribute.name();
      const bool graph = element == "raceway" && (name == "from" || name == "to");
      if (!graph && name != "id" && name != "name" && name != "xmlns") words.insert(element + "@" + name);
    }
    words.merge(words_of(child));
  }
  return words;
}

/// Whether the word is changed in this document. Documents share words out among each other, told by the
/// letters: whole installations hold nearly all of them, and a rule's fixtures are many and much alike.
bool tried_in(std::string_view file, std::string_view word) {
  const auto sum = [](std::string_view text) {
    return std::accumulate(text.begin(), text.end(), 0U,
                           [](unsigned so_far, char c) { return so_far + static_cast<unsigned char>(c); });
  };
  const bool whole = file.find("/known-") != std::string_view::npos;
  return (sum(file) + sum(word)) % (whole ? 8 : 3) == 0;
}

bool declared(std::string_view figure, const std::string& word) {
  const auto reads = checking::reads_of(figure::find(figure)->id);
  if (word.find('@') != std::string::npos) return std::find(reads.begin(), reads.end(), word) != reads.end();
  return std::any_of(reads.begin(), reads.end(),
                     [&](std::string_view read) { return read.substr(0, read.find('@')) == word; });
}

class Truth {
 public:
  void try_all(const std::string& name, const std::string& text) {
    file_ = name;
    pugi::xml_document original;
    ASSERT_TRUE(original.load_string(text.c_str())) << name;
    const Loaded loaded = load_bytes(text_of(original), name);
    ASSERT_TRUE(loaded.installation) << name;
    LoadedLaw& adopted = laws_[std::string(adopted_ruleset(*loaded.installation))];
    if (!adopted.law) adopted = load_shipped_ruleset(adopted_ruleset(*loaded.installation));
    ASSERT_TRUE(adopted.law) << name;
    law_ = adopted.law.get();
    std::shared_ptr<figure::LawNotes>& notes = all_notes_[law_];
    if (!notes) notes = std::make_shared<figure::LawNotes>(*law_);
    notes_ = notes;
    before_ = said_of(*loaded.installation, *law_, notes_);
    for (const std::string& word : words_of(original)) {
      if (!tried_in(name, word)) continue;
      const std::size_t mark = word.find('@');
      if (mark == std::string::npos) {
        remove_elements(original, word);
      } else {
        change_attributes(original, word, word.substr(0, mark), word.substr(mark + 1));
      }
    }
  }

  [[nodiscard]] std::size_t influences() const { return influences_; }
  /// "conductor-area does not say that it reads conductor@size", with the first file that shows it.
  [[nodiscard]] const std::map<std::string, std::string>& lies() const { return lies_; }

 private:
  void note(const pugi::xml_document& document, const std::string& word) {
    const Loaded loaded = load_bytes(text_of(document), "changed.xml");
    if (!loaded.installation) return;
    for (const std::string_view figure : changed(before_, said_of(*loaded.installation, *law_, notes_))) {
      ++influences_;
      if (!declared(figure, word))
        lies_.emplace(std::string(figure) + " does not say that it reads " + word, file_);
    }
  }

  /// All of them, then the first alone.
  template <class Change>
  void change(const pugi::xml_document& original, const std::string& word, std::string_view element,
              Change each) {
    for (const bool only_first : {false, true}) {
      pugi::xml_document copy;
      copy.reset(original);
      std::vector<pugi::xml_node> nodes = all_of(copy, element);
      if (only_first && nodes.size() == 1) continue;
      if (only_first) nodes.resize(1);
      for (pugi::xml_node& node : nodes) each(node);
      note(copy, word);
    }
  }

  void remove_elements(const pugi::xml_document& original, const std::string& word) {
    change(original, word, word, [](pugi::xml_node& node) { node.parent().remove_child(node); });
  }

  void change_attributes(const pugi::xml_document& original, const std::string& word,
                         const std::string& element, const std::string& name) {
    change(original, word, element, [&](pugi::xml_node& node) { node.remove_attribute(name.c_str()); });
    const auto& row =
        document::row_of(static_cast<document::Element>(document::element_words.find(element) - 1));
    const AttributeRow& attribute = row.rows[row.attributes.find(name) - 1U];
    for (std::size_t turn = 1; turn <= 3; ++turn) {
      change(original, word, element, [&](pugi::xml_node& node) {
        pugi::xml_attribute at = node.attribute(name.c_str());
        if (at) at.set_value(another(at.value(), attribute, turn - 1).c_str());
      });
    }
  }

  std::map<std::string, LoadedLaw> laws_;
  std::map<const Law*, std::shared_ptr<figure::LawNotes>> all_notes_;
  std::shared_ptr<figure::LawNotes> notes_;
  const Law* law_ = nullptr;  // that the document adopts
  std::string file_;
  Said before_;
  std::size_t influences_ = 0;
  std::map<std::string, std::string> lies_;
};

TEST(Reads, FiguresSayAllThatTheyRead) {
  Truth truth;
  for (const fs::path& file : test::good_documents(RACEWARD_SOURCE_DIR)) {
    std::ifstream in(file, std::ios::binary);
    truth.try_all(fs::relative(file, RACEWARD_SOURCE_DIR).generic_string(),
                  std::string{std::istreambuf_iterator<char>(in), {}});
  }
  truth.try_all("the document of everything", document::test::document_of_everything());
  EXPECT_GT(truth.influences(), 1000u);
  for (const auto& [lie, file] : truth.lies()) ADD_FAILURE() << lie << ", as " << file << " shows";
}

}  // namespace
