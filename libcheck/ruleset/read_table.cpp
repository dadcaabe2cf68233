#include "ruleset/read_table.hpp"

#include <array>
#include <map>

#include "ruleset/csv_line.hpp"
#include "ruleset/values.hpp"

namespace raceward::ruleset {
namespace {

constexpr std::size_t no_cell = static_cast<std::size_t>(-1);

class Reader {
 public:
  Reader(const TextFile& file, Citer& citer, Problems& problems)
      : file_(file), citer_(citer), problems_(problems) {}

  std::optional<TableFile> read() {
    std::size_t line = head();
    if (line == file_.line_count()) {
      problem(0, "the table has no row of column names");
      return std::nullopt;
    }
    const bool good = columns(line) && head_is_good_;
    if (!good) return std::nullopt;
    table_.place = file_.at(file_.line_start(line));
    for (++line; line < file_.line_count() && !problems_.full(); ++line) {
      const std::string_view text = file_.line(line);
      if (trimmed(text).empty()) continue;
      if (text.front() == '#') {
        problem(file_.line_start(line), "remarks and citations stand before the row of column names");
      } else {
        row(line);
      }
    }
    if (table_.row_count() == 0 && problems_.empty())
      problem(file_.line_start(line - 1), "the table has no rows");
    return TableFile{std::move(table_), std::move(rows_), std::move(headings_)};
  }

 private:
  void problem(std::size_t offset, std::string message) { problems_.add(file_, offset, std::move(message)); }
  void head_problem(std::size_t offset, std::string message) {
    problem(offset, std::move(message));
    head_is_good_ = false;
  }

  /// Lines "# key: value" before the column names. Answers the line of the column names.
  std::size_t head() {
    for (std::size_t line = 0; line < file_.line_count(); ++line) {
      const std::string_view text = file_.line(line);
      if (trimmed(text).empty()) continue;
      if (text.front() != '#') return line;
      const auto colon = text.find(':');
      const std::string_view key =
          trimmed(text.substr(1, colon == std::string_view::npos ? colon : colon - 1));
      if (colon == std::string_view::npos || !is_word(key)) continue;  // a plain remark
      const std::size_t start = file_.line_start(line);
      const std::string_view value = trimmed(text.substr(colon + 1));
      const std::size_t at = start + static_cast<std::size_t>(
                                         (value.empty() ? text.data() + colon : value.data()) - text.data());
      head_line(key, value, start, at);
    }
    return file_.line_count();
  }

  void head_line(std::string_view key, std::string_view value, std::size_t start, std::size_t at) {
    if (key == "remark") return;
    Field* into = key == "table"    ? &name_
                  : key == "cites"  ? &fields_.section
                  : key == "basis"  ? &fields_.basis
                  : key == "source" ? &fields_.source
                  : key == "note"   ? &fields_.note
                                    : nullptr;
    if (into == nullptr) {
      head_problem(start, "head line " + quoted(key) + " is not known" +
                              suggestion(key, {"table", "cites", "basis", "source", "note", "remark"}) +
                              "; a plain remark has no colon after one word, or says \"# remark: ...\"");
    } else if (into->written) {
      head_problem(start, "head line " + quoted(key) + " stands twice");
    } else if (value.empty()) {
      head_problem(at, "head line " + quoted(key) + " says nothing");
    } else if (key == "cites") {
      const auto comma = value.find(',');
      if (comma == std::string_view::npos) {
        fields_.section.written = true;
        head_problem(at,
                     "cites names a document and a section, such as \"# cites: nfpa-70, Chapter 9 Table 4\"");
        return;
      }
      fields_.document = {std::string(trimmed(value.substr(0, comma))), at, true};
      fields_.section = {std::string(trimmed(value.substr(comma + 1))), at, true};
    } else {
      *into = {std::string(value), at, true};
    }
  }

  bool columns(std::size_t line) {
    const std::size_t start = file_.line_start(line);
    if (!name_.written) head_problem(start, "the head does not name the table; write \"# table: name\"");
    if (!fields_.section.written)
      head_problem(start, "the head cites nothing; write \"# cites: document, section\"");
    table_.name = name_.text;
    std::vector<Cell> cells;
    if (const auto fault = split_line(file_.line(line), cells)) {
      problem(start + fault->offset, fault->what);
      return false;
    }
    bool good = true;
    const auto fault = [&](std::size_t at, std::string message) {
      problem(at, std::move(message));
      good = false;
    };
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::size_t at = start + cells[i].offset;
      if (cells[i].text == "change") {
        if (change_ != no_cell) fault(at, "column \"change\" stands twice");
        change_ = i;
        continue;
      }
      if (Special* special = special_of(cells[i].text)) {
        if (special->cell != no_cell) fault(at, "column " + quoted(special->name) + " stands twice");
        special->cell = i;
        continue;
      }
      std::string why;
      const std::optional<Column> column = column_of(cells[i].text, why);
      if (!column) {
        fault(at, why);
        continue;
      }
      if (table_.column(column->name) != Table::none)
        fault(at, "column " + quoted(column->name) + " stands twice");
      if (column->kind == Column::Kind::key && !table_.columns.empty() &&
          table_.columns.back().kind != Column::Kind::key) {
        fault(at, "key columns stand before all others");
      }
      table_.columns.push_back(*column);
      cells_.push_back(i);
      headings_.push_back(at);
    }
    if (good && (table_.columns.empty() || table_.columns.front().kind != Column::Kind::key)) {
      fault(start, "the table has no key column; mark one, such as \"trade-size [key]\"");
    }
    width_ = cells.size();
    return good;
  }

  void row(std::size_t line) {
    const std::size_t start = file_.line_start(line);
    std::vector<Cell> cells;
    if (const auto fault = split_line(file_.line(line), cells))
      return problem(start + fault->offset, fault->what);
    if (cells.size() != width_) {
      return problem(start, "the row has " + std::to_string(cells.size()) + " cells and the table " +
                                std::to_string(width_) + " columns" +
                                (cells.size() > width_ ? "; decimals have a point, and text with a comma "
                                                         "stands in double quotes"
                                                       : ""));
    }
    std::vector<std::string> keys, texts;
    std::vector<std::int64_t> quantities;
    bool good = true;
    for (std::size_t i = 0; i < table_.columns.size(); ++i) {
      const Column& column = table_.columns[i];
      const Cell& cell = cells[cells_[i]];
      if (column.kind == Column::Kind::text) {
        texts.push_back(cell.text);
      } else if (column.kind == Column::Kind::key) {
        if (cell.text.empty()) {
          problem(start + cell.offset, "key " + quoted(column.name) + " is empty");
          good = false;
        } else if (const auto strange = strange_key(column.name, cell.text)) {
          problem(start + cell.offset, "key " + quoted(column.name) + ": " + *strange);
          good = false;
        }
        keys.push_back(cell.text);
      } else if (cell.text.empty()) {
        quantities.push_back(Table::blank);
      } else if (const Parsed<Amount> amount = parse_cell(cell.text, column.unit);
                 amount && below_zero(*amount)) {
        problem(start + cell.offset,
                "column " + quoted(column.name) + ": " + quoted(cell.text) + " is below zero");
        good = false;
      } else if (amount) {
        quantities.push_back(amount->count);
      } else {
        problem(start + cell.offset, "column " + quoted(column.name) + ": " + amount.error().what);
        good = false;
      }
    }
    TableFile::Row made{start, start, {}};
    good = read_change(cells, start, made) && good;
    const std::optional<CitationId> cite = cite_of(cells, start);
    if (!good || !cite) return;
    if (table_.add_row(keys, quantities, texts, *cite)) {
      rows_.push_back(made);
      return;
    }
    const std::vector<std::string_view> views(keys.begin(), keys.end());
    const Place first = file_.at(rows_[table_.find(views)].offset);
    problem(start, "these keys stand in line " + std::to_string(first.line) + " already");
  }

  bool read_change(const std::vector<Cell>& cells, std::size_t start, TableFile::Row& row) {
    if (change_ == no_cell || cells[change_].text.empty()) return true;
    const std::string& word = cells[change_].text;
    row.change_at = start + cells[change_].offset;
    if (word == "new") {
      row.change = RowChange::adds;
      return true;
    }
    if (word != "remove") {
      problem(row.change_at, "change " + quoted(word) + " is not known; write new, remove or nothing" +
                                 suggestion(word, {"new", "remove"}));
      return false;
    }
    row.change = RowChange::removes;
    for (std::size_t i = 0; i < table_.columns.size(); ++i) {
      if (table_.columns[i].kind == Column::Kind::key || cells[cells_[i]].text.empty()) continue;
      problem(start + cells[cells_[i]].offset, "a row that is removed has keys and a citation, no values");
      return false;
    }
    return true;
  }

  /// The row's citation: that of the head, with what the row's own cells say instead.
  std::optional<CitationId> cite_of(const std::vector<Cell>& cells, std::size_t start) {
    CitationFields fields = fields_;
    bool own = false;
    // What the head says of its document says nothing of another one.
    if (says(cells, "document")) fields.section = fields.source = fields.note = {};
    for (const Special& special : specials_) {
      if (special.cell == no_cell || cells[special.cell].text.empty()) continue;
      fields.*special.into = {cells[special.cell].text, start + cells[special.cell].offset, true};
      own = true;
    }
    // A recalled row in a table that was read: the head's source is not its source.
    const bool recalled =
        fields.basis.text == name_of(Basis::memory) || fields.basis.text == name_of(Basis::common_practice);
    if (recalled && fields.basis.offset != fields_.basis.offset &&
        fields.source.offset == fields_.source.offset)
      fields.source = {};
    if (!own && head_refused_) return std::nullopt;  // said once
    const CitationId cite = citer_.cite(file_, fields, start);
    if (cite != no_citation) return cite;
    head_refused_ = head_refused_ || !own;
    return std::nullopt;
  }

  bool says(const std::vector<Cell>& cells, std::string_view name) {
    const Special* const special = special_of(name);
    return special->cell != no_cell && !cells[special->cell].text.empty();
  }

  struct Special {
    std::string_view name;
    Field CitationFields::*into;
    std::size_t cell = no_cell;
  };
  Special* special_of(std::string_view name) {
    for (Special& special : specials_) {
      if (special.name == name) return &special;
    }
    return nullptr;
  }

  const TextFile& file_;
  Citer& citer_;
  Problems& problems_;
  Field name_;
  CitationFields fields_;
  std::array<Special, 5> specials_{{{"document", &CitationFields::document},
                                    {"section", &CitationFields::section},
                                    {"basis", &CitationFields::basis},
                                    {"source", &CitationFields::source},
                                    {"note", &CitationFields::note}}};
  Table table_;
  std::vector<std::size_t> cells_;  // per column: its cell
  std::size_t change_ = no_cell;    // the cell that says what a row does to the base
  std::vector<TableFile::Row> rows_;
  std::vector<std::size_t> headings_;
  std::size_t width_ = 0;
  bool head_is_good_ = true;
  bool head_refused_ = false;
};

}  // namespace

std::optional<TableFile> read_table(const TextFile& file, Citer& citer, Problems& problems) {
  if (!plain_text(file, problems)) return std::nullopt;
  return Reader(file, citer, problems).read();
}

}  // namespace raceward::ruleset
