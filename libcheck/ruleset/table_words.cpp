#include "ruleset/table_words.hpp"

#include <algorithm>
#include <optional>

#include "document/vocabulary.hpp"
#include "installation/terms.hpp"
#include "ruleset/text_file.hpp"
#include "ruleset/values.hpp"

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

void KnownWords::add(std::span<const std::string_view> words) {
  if (!there_.empty()) there_.insert(words.begin(), words.end());
}

std::string KnownWords::near(std::string_view word, std::size_t most) const {
  std::vector<std::string_view> all(there_.begin(), there_.end());
  for (const Words* list : lists_) {
    for (const auto& term : list->terms) all.push_back(term.spelling);
  }
  return suggestion(word, all, most);
}

std::string KnownWords::instead_of(std::string_view word) const {
  const std::string near = this->near(word);
  if (!near.empty()) return near;
  std::string out;
  std::size_t named = 0;
  for (const std::string_view known : there_) {
    if (known.empty() || ++named > most_named) continue;
    out += (out.empty() ? "; it says " : ", ") + std::string(known);
  }
  return named > most_named ? out + " and others" : out;
}

namespace {

struct InTable {
  std::string_view table, column;
  std::span<const std::string_view> words = {};
};

/// Keys that are found by what documents write freely.
constexpr InTable free_keys[] = {
    {"conductor-color", "color"},          {"dwelling-equipment", "kind"},
    {"equipment-disconnect", "equipment"}, {"equipment-outlet-exception", "kind"},
    {"equipment-outlet-kinds", "kind"},    {"fixed-heating", "kind"},
    {"protection-otherwise", "equipment"}, {"reduced-grounded", "kind"},
};

/// Words that figures look for there, whatever the law below has.
constexpr std::string_view places_asked[] = {"yes", "no", "unclear", "unfinished", "countertop"};
constexpr std::string_view places_plain[] = {"yes", "no", "unclear"};
constexpr std::string_view places_finished[] = {"yes", "no", "unclear", "finished"};
constexpr std::string_view lighting_per[] = {"", "area", "building", "equipment", "room", "unclear"};
constexpr std::string_view receptacles_per[] = {"area", "bay", "building", "unfinished"};
constexpr InTable looked_for[] = {
    {"arc-fault-places", "asked", places_finished},     {"equipment-outlet-places", "asked", places_plain},
    {"ground-fault-locations", "asked", places_asked},  {"ground-fault-places", "asked", places_asked},
    {"required-lighting", "per", lighting_per},         {"required-receptacles", "per", receptacles_per},
    {"tamper-resistant-places", "asked", places_plain},
};

template <std::size_t N>
const InTable* in_list(const InTable (&list)[N], const Table& table, const Column& column) {
  const auto found = std::find_if(std::begin(list), std::end(list), [&](const InTable& each) {
    return each.table == table.name && each.column == column.name;
  });
  return found == std::end(list) ? nullptr : found;
}

bool is_whole(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// How many conductors: "3", "over 3".
bool is_number_of_conductors(std::string_view word) {
  constexpr std::string_view more_than = "over ";
  return is_whole(word) || (word.starts_with(more_than) && is_whole(word.substr(more_than.size())));
}

/// Whether figures look for the word in a key of that table, where that is known.
std::optional<bool> looks_for(const Table& table, const Column& column, std::string_view word) {
  const bool by_size = table.name == "raceway-support" || table.name == "egc-raceway";
  if (column.name == "trade-size" && word == "all") {
    if (by_size) return true;
    return std::nullopt;
  }
  if (has_words_of_documents(column.name)) return true;  // others were refused when the file was read
  if (table.name == "raceway-fill-limit" && is_number_of_conductors(word)) return true;
  return std::nullopt;
}

/// What of the words that are there is a slip away.
std::string slip_of(const KnownWords& known, std::string_view word) {
  constexpr std::size_t one_slip = 1;
  return known.near(word, one_slip);
}

}  // namespace

void words_fit(const Table& base, const TableFile& own, const TextFile& file, Problems& problems,
               Problems& near) {
  for (std::uint32_t column = 0; column < base.columns.size(); ++column) {
    const Column& of = base.columns[column];
    if (of.kind == Column::Kind::quantity) continue;
    KnownWords known = KnownWords::of(base, column);
    if (const InTable* more = in_list(looked_for, base, of)) known.add(more->words);
    const bool of_fill = base.name == "raceway-fill-limit" && of.kind == Column::Kind::key;
    if (of_fill) {
      for (const auto& term : installation::terms_of(installation::RacewayType{}))
        known.add({&term.spelling, 1});
    }
    const bool free = in_list(free_keys, base, of) != nullptr;
    const std::uint32_t at = own.table.column(of.name);
    for (std::uint32_t row = 0; row < own.table.row_count(); ++row) {
      const RowChange change = own.rows[row].change;
      if (change == RowChange::removes || (at == Table::none && change != RowChange::adds)) continue;
      // A new row without the column is blank in it.
      const std::string_view word = at == Table::none              ? std::string_view()
                                    : of.kind == Column::Kind::key ? own.table.key(row, at)
                                                                   : own.table.text(row, at);
      if (known.may_be(word)) continue;
      if (free) {
        if (const std::string meant = slip_of(known, word); !meant.empty())
          near.add(file, own.rows[row].offset,
                   "column " + quoted(of.name) + " says " + quoted(word) +
                       ", which is found only where a document says the same" + meant);
        continue;
      }
      if (of.kind == Column::Kind::key && looks_for(base, of, word).value_or(false)) continue;
      problems.add(file, own.rows[row].offset,
                   "column " + quoted(of.name) + " cannot say " + quoted(word) + ": nothing looks for it" +
                       known.instead_of(word));
    }
  }
}

}  // namespace raceward::ruleset
