#include "ruleset/amend_table.hpp"

#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

class Amending {
 public:
  Amending(const Table& base, const TableFile& own, LayerId layer, const TextFile& file, const Citer& citer,
           Problems& problems)
      : base_(base), own_(own), layer_(layer), file_(file), citer_(citer), problems_(problems) {}

  Table made() {
    if (!columns_fit()) return base_;
    Table out;
    out.name = base_.name;
    out.columns = base_.columns;
    out.place = base_.place;
    out.removed = base_.removed;
    std::vector<std::uint32_t> by(base_.row_count(), Table::none);  // per row of the base: the row over it
    for (std::uint32_t row = 0; row < own_.table.row_count(); ++row) place(row, by);
    for (std::uint32_t row = 0; row < base_.row_count(); ++row) {
      if (by[row] == Table::none) {
        add(out, keys_of(base_, row), row, Table::none, base_.cite(row), base_.layer(row));
      } else if (own_.rows[by[row]].change == RowChange::removes) {
        out.removed.push_back({keys_of(base_, row), own_.table.cite(by[row]), layer_});
      } else {
        add(out, keys_of(base_, row), row, by[row], own_.table.cite(by[row]), layer_);
      }
    }
    for (const std::uint32_t row : added_)
      add(out, keys_of(own_.table, row), Table::none, row, own_.table.cite(row), layer_);
    return out;
  }

 private:
  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }

  /// Keys in the base's order, and no column that the base lacks or holds as another kind.
  bool columns_fit() {
    bool good = true;
    std::string keys;
    for (std::size_t i = 0; i < base_.columns.size() && base_.columns[i].kind == Column::Kind::key; ++i) {
      keys += (keys.empty() ? "" : ", ") + base_.columns[i].name;
      good = good && i < own_.table.columns.size() && own_.table.columns[i].name == base_.columns[i].name;
    }
    if (!good) {
      problem(own_.headings.front(), "the keys of the base's table are, in this order: " + keys);
      return false;
    }
    std::vector<std::string_view> names;
    for (const Column& column : base_.columns) names.push_back(column.name);
    for (std::size_t i = 0; i < own_.table.columns.size(); ++i) {
      const Column& column = own_.table.columns[i];
      const std::uint32_t same = base_.column(column.name);
      if (same == Table::none) {
        problem(
            own_.headings[i],
            column.name == "change"
                ? std::string("what becomes of a row stands in a column change, without brackets")
                : "the base's table has no column " + quoted(column.name) + suggestion(column.name, names));
        good = false;
      } else if (!alike(column, base_.columns[same])) {
        problem(own_.headings[i], "column " + quoted(column.name) + " cannot hold " + kind_of(column) +
                                      "; in the base it holds " + kind_of(base_.columns[same]));
        good = false;
      }
    }
    return good;
  }

  void place(std::uint32_t row, std::vector<std::uint32_t>& by) {
    const std::vector<std::string> keys = keys_of(own_.table, row);
    const std::vector<std::string_view> views(keys.begin(), keys.end());
    const std::uint32_t known = base_.find(views);
    const TableFile::Row& fields = own_.rows[row];
    if (fields.change == RowChange::adds) {
      if (known != Table::none) {
        return problem(fields.change_at, "the base has this row; leave out \"new\" to change it");
      }
      return added_.push_back(row);
    }
    if (known == Table::none) {
      return problem(fields.offset, fields.change == RowChange::removes
                                        ? "the base has no row of these keys to remove"
                                        : "the base has no row of these keys; say new in a column "
                                          "\"change\" where it is to be added");
    }
    if (fields.change == RowChange::amends && says_the_same(known, row)) {
      return problem(fields.offset, "this row is as in the base; leave it out");
    }
    by[known] = row;
  }

  [[nodiscard]] bool says_the_same(std::uint32_t in_base, std::uint32_t row) const {
    for (std::size_t i = 0; i < own_.table.columns.size(); ++i) {
      const auto own = static_cast<std::uint32_t>(i);
      const std::uint32_t same = base_.column(own_.table.columns[i].name);
      if (own_.table.count(row, own) != base_.count(in_base, same) ||
          own_.table.text(row, own) != base_.text(in_base, same))
        return false;
    }
    return citer_.same(base_.cite(in_base), own_.table.cite(row));
  }

  static std::vector<std::string> keys_of(const Table& table, std::uint32_t row) {
    std::vector<std::string> keys;
    for (std::size_t i = 0; i < table.columns.size() && table.columns[i].kind == Column::Kind::key; ++i)
      keys.emplace_back(table.key(row, static_cast<std::uint32_t>(i)));
    return keys;
  }

  /// Cells from `row` of the own table where it has their column, else from the base's; either may be none.
  void add(Table& out, const std::vector<std::string>& keys, std::uint32_t in_base, std::uint32_t row,
           CitationId cite, LayerId layer) const {
    std::vector<std::int64_t> quantities;
    std::vector<std::string> texts;
    for (std::size_t i = keys.size(); i < base_.columns.size(); ++i) {
      const Column& column = base_.columns[i];
      const std::uint32_t own = row == Table::none ? Table::none : own_.table.column(column.name);
      const Table& from = own == Table::none ? base_ : own_.table;
      const std::uint32_t at = own == Table::none ? in_base : row;
      const std::uint32_t cell = own == Table::none ? static_cast<std::uint32_t>(i) : own;
      if (column.kind == Column::Kind::text) {
        texts.emplace_back(from.text(at, cell));
      } else {
        quantities.push_back(from.count(at, cell));
      }
    }
    out.add_row(keys, quantities, texts, cite);
    out.row_layers.push_back(layer);
  }

  const Table& base_;
  const TableFile& own_;
  const LayerId layer_;
  const TextFile& file_;
  const Citer& citer_;
  Problems& problems_;
  std::vector<std::uint32_t> added_;
};

}  // namespace

Table amended(const Table& base, const TableFile& own, LayerId layer, const TextFile& file,
              const Citer& citer, Problems& problems) {
  return Amending(base, own, layer, file, citer, problems).made();
}

}  // namespace raceward::ruleset
