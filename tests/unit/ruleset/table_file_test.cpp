// Table files: what a good one gives, and every fault of one with its place.
#include "files.hpp"

namespace raceward::ruleset::test {
namespace {

TEST(TableFile, GivesTheTableItWrites) {
  const LoadedLaw loaded = Files().load();
  ASSERT_TRUE(loaded.law) << Files().problems().front();
  const Law& law = *loaded.law;
  const Table* widths = law.table("widths");
  ASSERT_NE(widths, nullptr);
  EXPECT_EQ(law.table("width"), nullptr);
  ASSERT_EQ(widths->row_count(), 3u);
  ASSERT_EQ(widths->columns.size(), 5u);
  EXPECT_EQ(widths->columns[2].unit, Unit::inch);
  EXPECT_EQ(widths->place.file, Files::table);

  const std::uint32_t width = widths->column("width"), weight = widths->column("weight"),
                      word = widths->column("word");
  const std::uint32_t first = widths->find({"tin", "1/2"}), second = widths->find({"tin", "3/4"}),
                      third = widths->find({"lead", "1/2"});
  ASSERT_EQ(first, 0u);
  ASSERT_EQ(second, 1u);
  ASSERT_EQ(third, 2u);
  EXPECT_EQ(widths->count(first, width), inches(622).count() / 1000);
  EXPECT_EQ(widths->count(second, width), inches(7).count() / 2) << "fractions of an inch";
  EXPECT_EQ(widths->count(first, weight), number(3).count());
  EXPECT_EQ(widths->count(second, weight), Table::blank);
  EXPECT_EQ(widths->count(third, weight), number(1).count() / 2);
  EXPECT_EQ(widths->text(first, word), "plain");
  EXPECT_EQ(widths->text(second, word), "one, two \"three\"");
  EXPECT_EQ(widths->text(third, word), "");
  EXPECT_EQ(widths->key(third, 0), "lead");
}

TEST(TableFile, RowsSayWhatTheHeadDoesNot) {
  const LoadedLaw loaded = Files().load();
  ASSERT_TRUE(loaded.law);
  const Law& law = *loaded.law;
  const Table& widths = *law.table("widths");
  EXPECT_EQ(law.citation(widths.cite(0)),
            (Citation{"MC 7", "2020", "Table 7", Basis::read, "Book one", "Read in the first printing."}));
  EXPECT_EQ(law.citation(widths.cite(1)),
            (Citation{"MC 7", "2020", "Table 7 row 2", Basis::memory, "", "Read in the first printing."}))
      << "the head's source is none of a recalled row's";
  EXPECT_EQ(law.citation(widths.cite(2)),
            (Citation{"MC 7", "2020", "Table 7", Basis::derived, "Book two", "Worked out."}));
}

TEST(TableFile, ARowOfAnotherDocumentTakesNothingThatTheHeadSaysOfItsOwn) {
  Files files;
  files.with(Files::table, "section,basis,source,note", "document,section,basis,source,note")
      .with(Files::table, "plain,,,,", "plain,,,,,")
      .with(Files::table, "Table 7 row 2,memory,,", ",Table 7 row 2,memory,,")
      .with(Files::table, "derived,B2,Worked out.", "habit,by ear,read,B2,");
  // The last row lost a cell for the section.
  files.with(Files::table, "lead,1/2,1.25,0.5,,,habit", "lead,1/2,1.25,0.5,,habit");
  const LoadedLaw loaded = files.load();
  ASSERT_TRUE(loaded.law) << testing::PrintToString(files.problems());
  EXPECT_EQ(loaded.law->citation(loaded.law->table("widths")->cite(2)),
            (Citation{"what people do", "", "by ear", Basis::read, "Book two", ""}));

  files.with(Files::table, "habit,by ear,read,B2,", "habit,,,,");
  EXPECT_EQ(files.problems(),
            (std::vector<std::string>{
                "m/t/widths.csv:11:1 a value without section; say where in the document it stands",
                "m/t/widths.csv:11:1 basis \"read\" without source; name what was read"}));
}

TEST(TableFile, ToleratesMarksOfOtherSystems) {
  Files files;
  std::string& text = files[Files::table];
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 2))
    text.replace(at, 1, "\r\n");
  text.insert(0, "\xef\xbb\xbf");
  EXPECT_TRUE(files.problems().empty()) << testing::PrintToString(files.problems());
}

class TableFault : public testing::TestWithParam<Fault> {};

TEST_P(TableFault, IsTheOneProblemAndHasItsPlace) {
  const Fault& f = GetParam();
  expect_fault(Files::table, f.from, f.to, f.message);
}

const Fault faults[] = {
    {"unknown_head_line", "# note:", "^# notes:", R"(head line "notes" is not known; did you mean "note"?)"},
    {"head_line_twice", "# note: Read in the first printing.", "^# basis: memory",
     R"(head line "basis" stands twice)"},
    {"head_line_without_value", "# note: Read in the first printing.",
     "# note^:", R"(head line "note" says nothing)"},
    {"cites_without_section", "# cites: marrow, Table 7", "# cites: ^marrow",
     R"(cites names a document and a section, such as)"},
    {"cites_unknown_document", "marrow, Table 7", "^marow, Table 7",
     R"(document "marow" is not among the layer's <document> elements; did you mean "marrow"?)"},
    {"no_table_line",
     "# table: widths\n# cites: marrow, Table 7\n# basis: read\n# source: B1\n# note: Read in the first "
     "printing.\n# remark: nothing: of, importance\n",
     "# cites: marrow, Table 7\n# basis: read\n# source: B1\n^", R"(the head does not name the table)"},
    {"no_cites_line",
     "# cites: marrow, Table 7\n# basis: read\n# source: B1\n# note: Read in the first printing.\n# remark: "
     "nothing: of, importance\n",
     "# basis: read\n# source: B1\n^", R"(the head cites nothing)"},
    {"no_basis",
     "# basis: read\n# source: B1\n# note: Read in the first printing.\n# remark: nothing: of, importance\n"
     "kind [key],size [key],width [in],weight [number],word [text],section,basis,source,note\n",
     "kind [key],size [key],width [in],weight [number],word [text],section,basis,source,note\n^",
     "a value without basis; say read, derived, memory or common-practice"},
    {"head_after_columns", "lead,1/2,1.25", "^# basis: read\nlead,1/2,1.25",
     "remarks and citations stand before the row of column names"},
    {"column_without_kind", "weight [number]", "^weight", R"(column "weight" does not say what it holds)"},
    {"column_of_unknown_unit", "width [in]", "^width [inn]", R"(column "width": "inn" is no unit)"},
    {"column_of_no_name", "width [in]", "^The width [in]", R"(column name "The width" is no name)"},
    {"column_twice", "weight [number]", "^width [in]", R"(column "width" stands twice)"},
    {"special_column_twice", "section,basis,source,note", "section,basis,source,^basis",
     R"(column "basis" stands twice)"},
    {"late_key", "word [text]", "^word [key]", "key columns stand before all others"},
    {"bad_number", "0.622", "^wide",
     R"(column "width": "wide" is not a number; the column holds numbers in in)"},
    {"unit_in_a_cell", "0.622", "^15.8mm",
     R"(column "width": "15.8mm" brings a unit; the column holds numbers in in)"},
    {"below_zero", "0.622", "^-0.622", R"(column "width": "-0.622" is below zero)"},
    {"number_in_parts", "0.622", "^1.2.3", R"(column "width": "1.2.3": )"},
    {"exponent", ",3,plain", ",^3e2,plain",
     R"(column "weight": "3e2" is not a number; the column holds plain numbers)"},
    {"empty_key", "lead,1/2", "lead,^", R"(key "size" is empty)"},
    {"keys_twice", "lead,1/2", "^tin,1/2", "these keys stand in line 9 already"},
    {"too_few_cells", "lead,1/2,1.25", "^lead,1/2", "the row has 8 cells and the table 9 columns"},
    {"too_many_cells", "lead,1/2,1.25", "^lead,1/2,1.25,", "the row has 10 cells and the table 9 columns"},
    {"open_quote", R"(\"three\"",Table)", R"(\"three\""^",Table)", "this quote is not closed on its line"},
    {"bad_escape", R"(\"three\")", R"(^\three\")",
     "a backslash stands only before a quote or another backslash"},
    {"unknown_source", "derived,B2", "derived,^B7",
     R"(source "B7" is not among the layer's <source> elements)"},
    {"unknown_basis", "derived,B2", "^derivd,B2", R"(basis "derivd" is not known; did you mean "derived"?)"},
    {"memory_with_source", "memory,,", "memory,^B1,", R"(basis "memory" has no source)"},
    {"control_character", "plain", "pl^\x01in", "the file holds a control character"},
    {"not_utf8", "plain", "pl^\xc3in", "the file is not valid UTF-8 here"},
};
INSTANTIATE_TEST_SUITE_P(Each, TableFault, testing::ValuesIn(faults),
                         [](const auto& info) { return info.param.name; });

TEST(TableFile, KeysOfDocumentsAreTheirWords) {
  Files files;
  files[Files::table] = R"(# table: widths
# cites: marrow, Table 7
# basis: memory
raceway-type [key],trade-size [key],width [in]
EMT,all,1
EMTT,1/2,2
EMT,.75,3
)";
  EXPECT_EQ(
      files.problems(),
      (std::vector<std::string>{
          R"(m/t/widths.csv:6:1 key "raceway-type": "EMTT" is no word that documents have for it; did you mean "EMT"?)",
          R"(m/t/widths.csv:7:5 key "trade-size": ".75" is no word that documents have for it)"}));
}

TEST(TableFile, WithoutColumnsIsAFault) {
  Files files;
  files[Files::table] = "# table: widths\n# cites: marrow, Table 7\n";
  EXPECT_EQ(files.problems(),
            std::vector<std::string>{"m/t/widths.csv:1:1 the table has no row of column names"});
}

TEST(TableFile, WithoutKeyColumnIsAFault) {
  Files files;
  files[Files::table] = "# table: widths\n# cites: marrow, Table 7\n# basis: memory\nwidth [in]\n3\n";
  const auto problems = files.problems();
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].substr(0, 20), "m/t/widths.csv:4:1 t");
}

TEST(TableFile, WithoutRowsIsAFault) {
  Files files;
  files[Files::table] = "# table: widths\n# cites: marrow, Table 7\n# basis: memory\nsize [key],width [in]\n";
  EXPECT_EQ(files.problems(), std::vector<std::string>{"m/t/widths.csv:4:1 the table has no rows"});
}

TEST(TableFile, AFaultOfTheHeadIsSaidOnce) {
  Files files;
  files[Files::table] =
      "# table: widths\n# cites: marrow, Table 7\n# basis: read\n# source: B9\nsize [key],width "
      "[in]\n1,3\n2,4\n3,5\n";
  EXPECT_EQ(files.problems().size(), 1u);
}

}  // namespace
}  // namespace raceward::ruleset::test
