#include "ruleset/table_words.hpp"

#include <algorithm>

#include "document/vocabulary.hpp"
#include "ruleset/text_file.hpp"

namespace raceward::ruleset {
namespace {

using document::Words;

/// Longer than any word that a figure looks for: a sentence.
constexpr std::size_t longest_word = 40;
/// As many as a message can name.
constexpr std::size_t most_named = 12;

std::vector<const Words*> closed_lists() {
  std::vector<const Words*> out;
  for (std::size_t i = 0; i < document::element_count; ++i) {
    for (const document::AttributeRow& row : document::row_of(static_cast<document::Element>(i)).rows) {
      if (row.form.words != nullptr && std::find(out.begin(), out.end(), row.form.words) == out.end())
        out.push_back(row.form.words);
    }
  }
  return out;
}

/// What stands behind a number: "V" of "150V", nothing of "2-1/2"; false where it begins with none.
bool unit_of(std::string_view word, std::string_view& unit) {
  const std::size_t end = std::min(word.find_first_not_of("0123456789./- "), word.size());
  if (end == 0 || word.find_first_of("0123456789") >= end) return false;
  unit = word.substr(end);
  return true;
}

}  // namespace

KnownWords::KnownWords(std::set<std::string_view> there) : there_(std::move(there)) {
  std::set<std::string_view> words = there_;
  words.erase("");
  free_ = std::any_of(words.begin(), words.end(),
                      [](std::string_view word) { return word.size() > longest_word; });
  const auto of = [&](const Words& list) {
    return static_cast<std::size_t>(std::count_if(
        words.begin(), words.end(), [&](std::string_view word) { return list.find(word) != 0; }));
  };
  if (!words.empty() && std::all_of(words.begin(), words.end(),
                                    [](std::string_view word) { return word == "yes" || word == "no"; })) {
    there_.insert({"yes", "no"});
    return;
  }
  // "all" or "larger" may stand beside the words of a list.
  for (const Words* list : closed_lists()) {
    const std::size_t known = of(*list);
    if (known > 0 && known * 4 >= words.size() * 3) lists_.push_back(list);
  }
  if (!lists_.empty()) return;
  for (const std::string_view word : words) {
    std::string_view unit;
    if (!unit_of(word, unit)) {
      units_.clear();
      return;
    }
    units_.insert(unit);
  }
}

KnownWords KnownWords::of(const Table& table, std::uint32_t column) {
  std::set<std::string_view> there;
  for (std::uint32_t row = 0; row < table.row_count(); ++row) {
    there.insert(table.columns[column].kind == Column::Kind::key ? table.key(row, column)
                                                                 : table.text(row, column));
  }
  return KnownWords(std::move(there));
}

bool KnownWords::may_be(std::string_view word) const {
  if (free_ || there_.empty() || there_.count(word) != 0) return true;
  if (word.empty()) return false;
  for (const Words* list : lists_) {
    if (list->find(word) != 0) return true;
  }
  std::string_view unit;
  return unit_of(word, unit) && units_.count(unit) != 0;
}

std::string KnownWords::instead_of(std::string_view word) const {
  std::vector<std::string_view> all(there_.begin(), there_.end());
  for (const Words* list : lists_) {
    for (const auto& term : list->terms) all.push_back(term.spelling);
  }
  const std::string near = suggestion(word, all);
  if (!near.empty()) return near;
  std::string out;
  std::size_t named = 0;
  for (const std::string_view known : there_) {
    if (known.empty() || ++named > most_named) continue;
    out += (out.empty() ? "; it says " : ", ") + std::string(known);
  }
  return named > most_named ? out + " and others" : out;
}

void words_fit(const Table& base, const TableFile& own, const TextFile& file, Problems& problems) {
  for (std::uint32_t column = 0; column < base.columns.size(); ++column) {
    const Column& of = base.columns[column];
    if (of.kind == Column::Kind::quantity) continue;
    const KnownWords known = KnownWords::of(base, column);
    const std::uint32_t at = own.table.column(of.name);
    for (std::uint32_t row = 0; row < own.table.row_count(); ++row) {
      const RowChange change = own.rows[row].change;
      if (change == RowChange::removes || (at == Table::none && change != RowChange::adds)) continue;
      // A new row without the column is blank in it.
      const std::string_view word = at == Table::none              ? std::string_view()
                                    : of.kind == Column::Kind::key ? own.table.key(row, at)
                                                                   : own.table.text(row, at);
      if (known.may_be(word)) continue;
      problems.add(file, own.rows[row].offset,
                   "column " + quoted(of.name) + " cannot say " + quoted(word) + ": nothing looks for it" +
                       known.instead_of(word));
    }
  }
}

}  // namespace raceward::ruleset
