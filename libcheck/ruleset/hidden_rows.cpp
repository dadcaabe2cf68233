#include "ruleset/hidden_rows.hpp"

#include <algorithm>
#include <set>

#include "figure/words_of_law.hpp"

namespace raceward::ruleset {
namespace {

constexpr std::string_view all_sizes = "all";

class Hidden {
 public:
  Hidden(const Table& base, const TableFile& own, const TableOf& table, std::uint32_t size)
      : base_(base), own_(own), table_(table), size_(size) {}

  /// Sizes that have a row of their own under the keys of the row for all: those of the base that stay as
  /// they are, and those of this file.
  void look(std::uint32_t row) {
    kept.clear();
    std::set<std::string, std::less<>> own;
    std::vector<std::string> keys = own_.table.keys(row);
    for (std::uint32_t i = 0; i < own_.table.row_count(); ++i) {
      if (alike(own_.table.keys(i), keys)) own.insert(std::string(own_.table.key(i, size_)));
    }
    std::size_t removed = 0;
    for (std::uint32_t i = 0; i < base_.row_count(); ++i) {
      if (!alike(base_.keys(i), keys) || base_.key(i, size_) == all_sizes) continue;
      const std::string size(base_.key(i, size_));
      if (own.count(size) == 0)
        kept.push_back(size);
      else
        removed += is_removed(base_.keys(i)) ? 1 : 0;
    }
    const std::vector<std::string> sizes = sizes_of(keys);
    hides_all = !kept.empty() && removed == 0 && !sizes.empty() &&
                std::all_of(sizes.begin(), sizes.end(), [&](const std::string& size) {
                  return own.count(size) != 0 || std::find(kept.begin(), kept.end(), size) != kept.end();
                });
  }

  std::vector<std::string> kept;
  bool hides_all = false;

 private:
  [[nodiscard]] bool alike(const std::vector<std::string>& a, const std::vector<std::string>& b) const {
    for (std::size_t i = 0; i < b.size(); ++i) {
      if (i != size_ && a[i] != b[i]) return false;
    }
    return true;
  }

  [[nodiscard]] bool is_removed(const std::vector<std::string>& keys) const {
    const std::vector<std::string_view> views(keys.begin(), keys.end());
    const std::uint32_t row = own_.table.find(views);
    return row != Table::none && own_.rows[row].change == RowChange::removes;
  }

  /// Those that the raceway of these keys is made in: of which the law has an area, or, where it has none,
  /// those that it permits of the sizes that it has of others.
  [[nodiscard]] std::vector<std::string> sizes_of(const std::vector<std::string>& keys) const {
    std::vector<std::string> out, others;
    const Table* const areas = table_("raceway-area");
    const std::uint32_t type = base_.column("raceway-type");
    if (areas == nullptr || areas->columns.size() < 2 || type == Table::none) return out;
    for (std::uint32_t row = 0; row < areas->row_count(); ++row)
      (areas->key(row, 0) == keys[type] ? out : others).emplace_back(areas->key(row, 1));
    const Table* const permitted = table_("raceway-size");
    const std::uint32_t row = permitted == nullptr ? Table::none : permitted->find({keys[type]});
    if (!out.empty() || row == Table::none) return out;
    const auto size_in = [&](std::string_view column) {
      return figure::term_spelt<installation::TradeSize>(permitted->text(row, permitted->column(column)));
    };
    const auto least = size_in("smallest"), most = size_in("largest");
    for (const std::string& size : others) {
      const auto of = figure::term_spelt<installation::TradeSize>(size);
      if (of >= least && of <= most) out.push_back(size);
    }
    return out;
  }

  const Table& base_;
  const TableFile& own_;
  const TableOf& table_;
  const std::uint32_t size_;
};

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

}  // namespace

void hidden_rows(const Table& base, const TableFile& own, const TableOf& table, const TextFile& file,
                 Problems& problems, Problems& remarks) {
  const std::uint32_t size = base.column("trade-size");
  if (size == Table::none || base.columns[size].kind != Column::Kind::key) return;
  for (std::size_t i = 0; i < base.columns.size() && base.columns[i].kind == Column::Kind::key; ++i) {
    if (i >= own.table.columns.size() || own.table.columns[i].name != base.columns[i].name)
      return;  // said elsewhere
  }
  Hidden hidden(base, own, table, size);
  for (std::uint32_t row = 0; row < own.table.row_count(); ++row) {
    if (own.table.key(row, size) != all_sizes || own.rows[row].change == RowChange::removes) continue;
    hidden.look(row);
    if (hidden.kept.empty()) continue;
    const std::string rows = (hidden.kept.size() == 1 ? "that for " : "those for ") + listed(hidden.kept);
    if (hidden.hides_all) {
      problems.add(file, own.rows[row].offset,
                   "this row would hold of no size: each has a row of its own in the base; change " + rows);
    } else {
      remarks.add(file, own.rows[row].offset,
                  "this row does not hold of all sizes: the base has rows of their own, which stay as they "
                  "are; change " +
                      rows + " as well where they are meant");
    }
  }
}

}  // namespace raceward::ruleset
