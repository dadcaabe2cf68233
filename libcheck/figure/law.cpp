// Look-ups in a resolved law: by a hash of the name, else by binary search; and a hash over a table's joined
// keys.
#include "raceward/law.hpp"

#include <algorithm>
#include <cstring>

namespace raceward {
namespace {

/// Eight bytes of a text are mixed in at once; its length keeps {"ab", "c"} and {"a", "bc"} apart.
std::uint64_t mixed(std::uint64_t hash, std::string_view text) {
  constexpr std::uint64_t odd = 0x9e3779b97f4a7c15ull;  // not law: of the hash function
  const auto mix = [&hash](std::uint64_t word) {
    hash = (hash ^ word) * odd;
    hash ^= hash >> 32;
  };
  mix(text.size());
  std::uint64_t word = 0;
  const auto take = [&word](const char* at) { std::memcpy(&word, at, sizeof(word)); };
  if (text.size() >= sizeof(word)) {
    const char* const last = text.data() + text.size() - sizeof(word);
    for (const char* at = text.data(); at < last; at += sizeof(word)) {
      take(at);
      mix(word);
    }
    take(last);  // some of it twice
  } else {
    for (const char c : text) word = word << 8 | static_cast<unsigned char>(c);
  }
  mix(word);
  return hash;
}

std::uint64_t hash_of(std::span<const std::string_view> keys) {
  std::uint64_t hash = 0;
  for (const std::string_view key : keys) hash = mixed(hash, key);
  return hash;
}

template <class T, class Name>
const T* by_name(const std::vector<T>& sorted, std::string_view name, Name name_of_item) {
  const auto at = std::lower_bound(sorted.begin(), sorted.end(), name,
                                   [&](const T& item, std::string_view n) { return name_of_item(item) < n; });
  return at != sorted.end() && name_of_item(*at) == name ? &*at : nullptr;
}

}  // namespace

std::string_view name_of(Basis basis) {
  switch (basis) {
    case Basis::read:
      return "read";
    case Basis::derived:
      return "derived";
    case Basis::memory:
      return "memory";
    case Basis::common_practice:
      return "common-practice";
  }
  return "memory";
}

std::string_view name_of(RuleSetting::Force force) {
  switch (force) {
    case RuleSetting::Force::required:
      return "required";
    case RuleSetting::Force::advised:
      return "advised";
    case RuleSetting::Force::off:
      return "off";
  }
  return "off";
}

bool Table::add_row(const std::vector<std::string>& keys, const std::vector<std::int64_t>& quantities,
                    const std::vector<std::string>& texts, CitationId cite) {
  std::vector<std::string_view> views(keys.begin(), keys.end());
  if (find(views) != none) return false;

  std::vector<std::string> cells(columns.size());
  std::vector<std::int64_t> counts(columns.size(), blank);
  std::size_t key = 0, quantity = 0, text = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    switch (columns[i].kind) {
      case Column::Kind::key:
        cells[i] = keys[key++];
        break;
      case Column::Kind::quantity:
        counts[i] = quantities[quantity++];
        break;
      case Column::Kind::text:
        cells[i] = texts[text++];
        break;
    }
  }
  texts_.push_back(std::move(cells));
  counts_.push_back(std::move(counts));
  cites_.push_back(cite);
  if (slots_.size() < cites_.size() * 2) {
    grow();
  } else {
    put(row_count() - 1, hash_of(views));
  }
  return true;
}

void Table::put(std::uint32_t row, std::uint64_t hash) {
  const std::size_t mask = slots_.size() - 1;
  std::size_t at = hash & mask;
  while (slots_[at] != none) at = (at + 1) & mask;
  slots_[at] = row;
}

void Table::grow() {
  std::size_t size = 16;                       // not law: slots
  while (size < cites_.size() * 4) size *= 2;  // not law: slots a row
  slots_.assign(size, none);
  std::vector<std::string_view> keys;
  for (std::uint32_t row = 0; row < row_count(); ++row) {
    keys.clear();
    for (std::size_t i = 0; i < columns.size() && columns[i].kind == Column::Kind::key; ++i) {
      keys.emplace_back(texts_[row][i]);
    }
    put(row, hash_of(keys));
  }
}

bool Table::has_keys(std::uint32_t row, std::span<const std::string_view> keys) const {
  // Key columns come first; a call with more or fewer keys than there are finds nothing.
  const std::vector<std::string>& cells = texts_[row];
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (i >= columns.size() || columns[i].kind != Column::Kind::key || cells[i] != keys[i]) return false;
  }
  return keys.size() == columns.size() || columns[keys.size()].kind != Column::Kind::key;
}

std::uint32_t Table::find(std::span<const std::string_view> keys) const {
  if (slots_.empty()) return none;
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t at = hash_of(keys) & mask; slots_[at] != none; at = (at + 1) & mask) {
    if (has_keys(slots_[at], keys)) return slots_[at];
  }
  return none;
}

std::uint32_t Table::find(std::initializer_list<std::string_view> keys) const {
  return find(std::span<const std::string_view>(keys.begin(), keys.size()));
}

std::uint32_t Table::row_count() const { return static_cast<std::uint32_t>(cites_.size()); }

std::uint32_t Table::column(std::string_view column_name) const {
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].name == column_name) return static_cast<std::uint32_t>(i);
  }
  return none;
}

std::uint32_t Table::column(std::string_view column_name, Dimension dimension) const {
  const std::uint32_t at = column(column_name);
  if (at == none) return none;
  const Column& found = columns[at];
  return found.kind == Column::Kind::quantity && dimension_of(found.unit) == dimension ? at : none;
}

// A layer may bring a table without a column that a figure asks for: that reads as a blank.
std::string_view Table::key(std::uint32_t row, std::uint32_t column) const { return text(row, column); }

std::int64_t Table::count(std::uint32_t row, std::uint32_t column) const {
  return row < counts_.size() && column < counts_[row].size() ? counts_[row][column] : blank;
}

std::string_view Table::text(std::uint32_t row, std::uint32_t column) const {
  return row < texts_.size() && column < texts_[row].size() ? std::string_view{texts_[row][column]}
                                                            : std::string_view{};
}

std::vector<std::string> Table::keys(std::uint32_t row) const {
  std::vector<std::string> out;
  for (std::uint32_t i = 0; i < columns.size() && columns[i].kind == Column::Kind::key; ++i)
    out.emplace_back(key(row, i));
  return out;
}

bool Table::copy_row(std::uint32_t row, CitationId cite, Table& to) const {
  std::vector<std::int64_t> quantities;
  std::vector<std::string> texts;
  for (std::uint32_t i = 0; i < columns.size(); ++i) {
    if (columns[i].kind == Column::Kind::quantity) quantities.push_back(count(row, i));
    if (columns[i].kind == Column::Kind::text) texts.emplace_back(text(row, i));
  }
  return to.add_row(keys(row), quantities, texts, cite);
}

bool Table::same_cells(std::uint32_t row, const Table& other, std::uint32_t other_row) const {
  return texts_[row] == other.texts_[other_row] && counts_[row] == other.counts_[other_row];
}

std::size_t NameSlots::hash(std::string_view name) { return mixed(0, name); }

const Parameter* Law::parameter(std::string_view name) const {
  if (const Parameter* const found = parameter_slots.look(parameters, name)) return found;
  return by_name(parameters, name, [](const Parameter& p) -> const std::string& { return p.name; });
}

const Parameter* Law::parameter(std::string_view name, Dimension dimension) const {
  const Parameter* const found = parameter(name);
  const bool fits = found != nullptr && !found->is_word && dimension_of(found->value.unit) == dimension;
  return fits ? found : nullptr;
}

const Parameter* Law::divisor(std::string_view name, Dimension dimension) const {
  const Parameter* const found = parameter(name, dimension);
  return found != nullptr && found->value.count > 0 ? found : nullptr;
}

const Table* Law::table(std::string_view name) const {
  if (const Table* const found = table_slots.look(tables, name)) return found;
  return by_name(tables, name, [](const Table& t) -> const std::string& { return t.name; });
}

const RuleSetting* Law::rule(std::string_view rule_id) const {
  return by_name(rules, rule_id, [](const RuleSetting& r) -> const std::string& { return r.rule; });
}

const DeclaredFact* Law::fact(std::string_view name) const {
  return by_name(facts, name, [](const DeclaredFact& f) -> const std::string& { return f.name; });
}

}  // namespace raceward
