// The shipped tables of NFPA 70-2023 against published copies of the same tables. Sources:
// data/tables-sources.md.
//
// Rows that were READ are the check. Rows FROM MEMORY are compared too, so that the two copies cannot drift
// apart; that proves nothing about the code, and a shipped row may not claim more than its row here.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "oracle_csv.hpp"
#include "raceward/engine.hpp"

namespace raceward::published {
namespace {

const Law& law() {
  static const LoadedLaw loaded = load_ruleset("nec-2023");
  static const Law none;
  if (!loaded.law) ADD_FAILURE() << loaded.problems.front().message;
  return loaded.law ? *loaded.law : none;
}

const Table& table(std::string_view name) {
  static const Table none;
  const Table* t = law().table(name);
  if (t == nullptr) ADD_FAILURE() << "no table " << name;
  return t == nullptr ? none : *t;
}

std::string size_of(const std::string& printed) {
  const bool kcmil = printed.size() >= 3 && printed.find('/') == std::string::npos;
  return printed + (kcmil ? " kcmil" : " AWG");
}

Basis basis_of(const std::string& word) {
  if (word == "READ") return Basis::read;
  if (word == "READ (derived)") return Basis::derived;
  EXPECT_EQ(word, "FROM MEMORY");
  return Basis::memory;
}

/// A row of a shipped table, compared cell by cell.
class Shipped {
 public:
  Shipped(const Table& t, std::initializer_list<std::string_view> keys) : table_(t), row_(t.find(keys)) {
    for (const std::string_view key : keys) (name_ += ' ') += key;
    EXPECT_NE(row_, Table::none) << t.name << " has no row" << name_;
  }
  explicit operator bool() const { return row_ != Table::none; }

  [[nodiscard]] std::int64_t count(std::string_view column) const {
    return table_.count(row_, table_.column(column));
  }
  [[nodiscard]] double number(std::string_view column) const {
    const std::uint32_t at = table_.column(column);
    return std::stod(decimal_of({table_.count(row_, at), table_.columns[at].unit}));
  }

  void is(std::string_view column, const std::string& printed) const {
    const std::uint32_t at = table_.column(column);
    ASSERT_NE(at, Table::none) << table_.name << ' ' << column;
    if (table_.columns[at].kind == Column::Kind::text) {
      EXPECT_EQ(table_.text(row_, at), printed) << table_.name << name_ << ' ' << column;
      return;
    }
    const std::int64_t steps = table_.count(row_, at);
    const std::string ours = steps == Table::blank ? "" : decimal_of({steps, table_.columns[at].unit});
    EXPECT_EQ(ours, plain_decimal(printed)) << table_.name << name_ << ' ' << column;
  }

  void claims(const std::string& printed_basis) const {
    EXPECT_EQ(law().citation(table_.cite(row_)).basis, basis_of(printed_basis)) << table_.name << name_;
  }

 private:
  const Table& table_;
  std::uint32_t row_;
  std::string name_;
};

double circle(double diameter) { return std::numbers::pi / 4 * diameter * diameter; }
/// What the engine makes of a row of raceway-area.
double circle_of(const Shipped& row) { return circle(row.number("internal-diameter")); }

TEST(Chapter9Table1, Limits) {
  for (const Row& r : rows_of("ch9_table1.csv")) {
    const std::string& many = r.at("number_of_conductors");
    const Shipped ours(table("raceway-fill-limit"), {many.starts_with("nipple") ? "nipple" : many});
    if (!ours) continue;
    ours.is("limit", r.at("max_fill_percent"));
    ours.claims(r.at("basis"));
  }
}

TEST(Chapter9Table2, RadiiFromMemory) {
  for (const Row& r : rows_of("ch9_table2.csv")) {
    const Shipped ours(table("bend-radius"), {r.at("trade_size")});
    if (!ours) continue;
    ours.is("one-shot", r.at("min_radius_one_shot_full_shoe_in"));
    ours.is("other", r.at("min_radius_other_bends_in"));
    ours.claims(r.at("basis"));
    EXPECT_LE(ours.count("one-shot"), ours.count("other"));
  }
}

TEST(Chapter9Table4, DiametersAndAreas) {
  const auto rows = rows_of("ch9_table4.csv");
  // HDPE stands in the table with PVC of schedule 40, as remembered.
  std::size_t alike = 0;
  for (const Row& r : rows) {
    if (r.at("raceway") != "PVC-40") continue;
    const Shipped ours(table("raceway-area"), {"HDPE", r.at("trade_size")});
    if (!ours) continue;
    ours.is("internal-diameter", r.at("internal_diameter_in"));
    EXPECT_NEAR(circle_of(ours), std::stod(r.at("total_area_100pct_in2")), 0.00051) << r.at("trade_size");
    ++alike;
  }
  EXPECT_EQ(table("raceway-area").row_count(), rows.size() + alike);
  int derived = 0;
  for (const Row& r : rows) {
    const Shipped ours(table("raceway-area"), {r.at("raceway"), r.at("trade_size")});
    if (!ours) continue;
    ours.is("internal-diameter", r.at("internal_diameter_in"));
    ours.claims(r.at("basis_diameter"));
    derived += r.at("basis_diameter") == "READ (derived)";
    EXPECT_NEAR(circle_of(ours), std::stod(r.at("total_area_100pct_in2")), 0.00051)
        << r.at("raceway") << ' ' << r.at("trade_size");
  }
  EXPECT_EQ(derived, 14) << "EMT 1/2 to 4 and four sizes of IMC come from makers' dimensions";
}

TEST(Chapter9Table4, SharesOfTheArea) {
  // The printed percent columns follow from total area and Table 1: a slip in either shows here.
  const std::pair<const char*, const char*> columns[] = {{"1", "area_1wire_53pct_in2"},
                                                         {"2", "area_2wires_31pct_in2"},
                                                         {"over 2", "area_over2wires_40pct_in2"},
                                                         {"nipple", "area_60pct_in2"}};
  for (const Row& r : rows_of("ch9_table4.csv")) {
    const Shipped area(table("raceway-area"), {r.at("raceway"), r.at("trade_size")});
    if (!area) continue;
    for (const auto& [key, column] : columns) {
      const Shipped limit(table("raceway-fill-limit"), {key});
      const double share = limit.number("limit") / 100;
      // Printed from the area before or after rounding: half a thousandth each.
      EXPECT_NEAR(circle_of(area) * share, std::stod(r.at(column)), 0.0005 + 0.0005 * share + 1e-9)
          << r.at("raceway") << ' ' << r.at("trade_size") << ' ' << column;
    }
  }
}

TEST(Chapter9Table4, RigidMetalConduitAsReadInATextbook) {
  for (const Row& r : rows_of("rmc_areas_textbook.csv")) {
    ASSERT_EQ(r.at("basis"), "READ");
    const Shipped ours(table("raceway-area"), {"RMC", r.at("trade_size")});
    if (!ours) continue;
    EXPECT_NEAR(circle_of(ours), std::stod(r.at("total_area_in2")), 0.00051) << r.at("trade_size");
    for (const auto& [key, column] :
         {std::pair{"over 2", "area_over2wires_40pct_in2"}, {"nipple", "area_60pct_in2"}}) {
      const double share = Shipped(table("raceway-fill-limit"), {key}).number("limit") / 100;
      EXPECT_NEAR(circle_of(ours) * share, std::stod(r.at(column)), 0.0005 + 0.0005 * share + 1e-9);
    }
  }
}

/// Words of the `types` column: "RHH, RHW, RHW-2 with outer covering" -> RHH-COV, RHW-COV, RHW-2-COV.
std::vector<std::string> insulations_of(std::string types) {
  const bool covered = types.find(" with outer covering") != std::string::npos;
  if (const auto at = types.find(" with"); at != std::string::npos) types.erase(at);
  std::vector<std::string> out;
  for (std::string& word : split(types)) {
    word.erase(0, word.find_first_not_of(' '));
    out.push_back(word + (covered ? "-COV" : ""));
  }
  return out;
}

TEST(Chapter9Table5, EveryInsulationOfEveryRow) {
  int checked = 0;
  for (const Row& r : rows_of("ch9_table5.csv")) {
    ASSERT_EQ(r.at("basis"), "READ");
    for (const std::string& insulation : insulations_of(r.at("types"))) {
      if (insulation == "ZW") continue;  // no word of ours
      const Table& groups = table("insulation-group");
      const std::uint32_t row = groups.find({insulation});
      ASSERT_NE(row, Table::none) << insulation;
      const Shipped ours(table("conductor-area"),
                         {groups.text(row, groups.column("group")), size_of(r.at("size_awg_kcmil"))});
      if (!ours) continue;
      ours.is("area", r.at("approx_area_in2"));
      ours.claims(r.at("basis"));
      ++checked;
      // S10 prints a smaller area for these than their diameter gives; what is printed stands.
      if (r.at("size_awg_kcmil") == "18" && (insulation == "RFH-1" || insulation.starts_with("XF"))) continue;
      EXPECT_NEAR(ours.number("area"), circle(std::stod(r.at("approx_diameter_in"))), 0.00006)
          << insulation << ' ' << r.at("size_awg_kcmil");
    }
  }
  EXPECT_GT(checked, 300);
}

TEST(Chapter9Table5A, CompactConductorsFromMemory) {
  const auto rows = rows_of("ch9_table5a.csv");
  EXPECT_EQ(table("compact-conductor-area").row_count(), rows.size());
  std::size_t bare = 0;
  for (const Row& r : rows) {
    const std::string insulation = r.at("type").substr(0, r.at("type").find('/'));
    const Table& groups = table("insulation-group");
    const std::string_view group = groups.text(groups.find({insulation}), groups.column("group"));
    const Shipped ours(table("compact-conductor-area"), {group, size_of(r.at("size_awg_kcmil"))});
    if (!ours) continue;
    // Once for each size.
    if (ours.count("bare-diameter") != Table::blank) {
      ours.is("bare-diameter", r.at("bare_compact_diameter_in"));
      EXPECT_LT(ours.number("bare-diameter"), std::stod(r.at("approx_diameter_in")));
      ++bare;
    }
    ours.is("area", r.at("approx_area_in2"));
    ours.claims(r.at("basis"));
    const double across = std::stod(r.at("approx_diameter_in"));
    // Some areas of this table are cut, not rounded, to four decimals.
    EXPECT_LE(ours.number("area"), circle(across) + 0.00006) << insulation << ' ' << r.at("size_awg_kcmil");
    EXPECT_GE(ours.number("area"), circle(across) - 0.00011) << insulation << ' ' << r.at("size_awg_kcmil");
  }
  EXPECT_EQ(bare, 18u) << "sizes";
}

TEST(Chapter9Table8, BareConductors) {
  const auto rows = rows_of("ch9_table8.csv");
  EXPECT_EQ(table("bare-conductor-area").row_count(), rows.size());
  for (const Row& r : rows) {
    const std::string size = size_of(r.at("size_awg_kcmil"));
    const Shipped ours(table("bare-conductor-area"), {size, r.at("construction")});
    if (!ours) continue;
    ours.is("area", r.at("overall_area_in2"));
    ours.claims(r.at("basis"));
    // Rounded or cut to three decimals, from diameters that are rounded themselves.
    EXPECT_NEAR(ours.number("area"), circle(std::stod(r.at("overall_diameter_in"))), 0.001) << size;
    const Shipped mils(table("conductor-circular-mils"), {size});
    if (!mils) continue;
    mils.is("circular-mils", r.at("area_circular_mils"));
    mils.claims(r.at("basis_circular_mils"));
  }
}

// Chapter 9 Table 8: source S16. Only what the table for alternating current lacks is shipped: 18 and 16 AWG,
// and aluminum of 14 AWG. Stranded conductors have the larger resistance.
TEST(Chapter9Table8, Resistances) {
  std::size_t shipped = 0;
  for (const Row& r : rows_of("ch9_table8.csv")) {
    const std::string& size = r.at("size_awg_kcmil");
    const bool small = size == "18" || size == "16";
    if (r.at("construction") != "stranded" || (!small && size != "14")) continue;
    const Shipped ours(table("conductor-resistance"), {size_of(size), "stranded"});
    if (!ours) continue;
    if (small) ours.is("copper", r.at("dc_resistance_75C_copper_uncoated_ohm_per_kft"));
    ours.is("aluminum", r.at("dc_resistance_75C_aluminum_ohm_per_kft"));
    ours.claims(r.at("basis"));
    ++shipped;
  }
  EXPECT_EQ(table("conductor-resistance").row_count(), shipped);
}

// Chapter 9 Table 9: sources S19, S20 and S21. The reactance is printed once for both metals, and once for
// PVC and aluminum; there is no aluminum of 14 AWG.
TEST(Chapter9Table9, Impedances) {
  const std::map<std::string, const char*> quantities = {{"reactance XL", "reactance"},
                                                         {"AC resistance", "resistance"},
                                                         {"effective Z at 0.85 PF", "effective"}};
  std::size_t checked = 0;
  for (const Row& r : rows_of("ch9_table9.csv")) {
    const std::string &printed_metal = r.at("conductor"), &printed_conduit = r.at("conduit");
    for (const char* metal : {"copper", "aluminum"}) {
      if (printed_metal != "any" && !printed_metal.starts_with(metal)) continue;
      if (std::string_view(metal) == "aluminum" && r.at("size_awg_kcmil") == "14") continue;
      for (const char* conduit : {"PVC", "aluminum", "steel"}) {
        if (printed_conduit.find(conduit) == std::string::npos) continue;
        const Shipped ours(table("conductor-impedance"), {quantities.at(r.at("quantity")), metal,
                                                          size_of(r.at("size_awg_kcmil")), conduit});
        if (!ours) continue;
        ours.is("ohms", r.at("ohm_to_neutral_per_kft"));
        ours.claims(r.at("basis"));
        ++checked;
      }
    }
  }
  EXPECT_EQ(table("conductor-impedance").row_count(), checked);
}

// What note 2 of Table 9 says of effective impedance: R cos + X sin, here against the printed columns.
TEST(Chapter9Table9, EffectiveImpedanceFollowsFromItsParts) {
  const Table& t = table("conductor-impedance");
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    if (t.key(row, 0) != "effective") continue;
    const auto ohms = [&](std::string_view quantity) {
      return Shipped(t, {quantity, t.key(row, 1), t.key(row, 2), t.key(row, 3)}).number("ohms");
    };
    const double cosine = 0.85,
                 computed = ohms("resistance") * cosine + ohms("reactance") * std::sqrt(1 - cosine * cosine);
    EXPECT_NEAR(ohms("effective") / computed, 1, 0.07)
        << t.key(row, 1) << ' ' << t.key(row, 2) << ' ' << t.key(row, 3);
  }
}

/// Kind and size as documents write them, for each shipped row that a printed row stands for.
std::vector<std::pair<std::string, std::string>> boxes_of(const Row& r) {
  const std::string &kind = r.at("box_kind"), &size = r.at("box_trade_size_in");
  if (kind == "round/octagonal") return {{"round", size}, {"octagonal", size}};
  if (kind == "masonry box/gang") return {{"masonry", size}};
  if (kind.starts_with("F"))
    return {{kind.substr(0, 2), kind.find("single") != std::string::npos ? "single" : "multiple"}};
  return {{kind, size}};
}

TEST(Table31416A, VolumesAndCounts) {
  constexpr const char* sizes[] = {"18", "16", "14", "12", "10", "8", "6"};
  std::size_t boxes = 0;
  for (const Row& r : rows_of("box_volume_314_16A.csv")) {
    for (const auto& [kind, size] : boxes_of(r)) {
      ++boxes;
      const Shipped box(table("box-volume"), {kind, size});
      if (!box) continue;
      box.is("volume", r.at("min_volume_in3"));
      box.claims(r.at("basis_volume"));
      for (const char* awg : sizes) {
        const Shipped allowance(table("conductor-allowance"), {size_of(awg)});
        if (!allowance) continue;
        EXPECT_EQ(box.count("volume") / allowance.count("volume"),
                  std::stoll(r.at("max_count_" + std::string(awg) + "_awg")))
            << kind << ' ' << size << ", " << awg << " AWG";
      }
    }
  }
  EXPECT_EQ(table("box-volume").row_count(), boxes);
}

TEST(Table31416B, Allowances) {
  for (const Row& r : rows_of("box_allowance_314_16B.csv")) {
    const Shipped ours(table("conductor-allowance"), {size_of(r.at("size_awg"))});
    if (!ours) continue;
    ours.is("volume", r.at("volume_per_conductor_in3"));
    ours.claims(r.at("basis"));
  }
}

TEST(Table250122, EquipmentGroundingConductors) {
  const auto rows = rows_of("egc_250_122.csv");
  EXPECT_EQ(table("egc-size").row_count(), rows.size());
  std::int64_t before = 0;
  for (const Row& r : rows) {
    const Shipped ours(table("egc-size"), {r.at("ocpd_rating_not_exceeding_A")});
    if (!ours) continue;
    ours.is("rating", r.at("ocpd_rating_not_exceeding_A"));
    ours.is("copper", size_of(r.at("copper_awg_kcmil")));
    ours.is("aluminum", size_of(r.at("aluminum_awg_kcmil")));
    ours.claims(r.at("basis"));
    EXPECT_GT(ours.count("rating"), before) << "rows stand in order of rating";
    before = ours.count("rating");
  }
}

/// Table 250.66, source S32. Its ranges are written there by sizes, here by the area of the last one in
/// circular mils. The first range of aluminum is printed as 1 AWG or smaller and shipped to 1/0 AWG, which
/// the next one leaves out.
TEST(Table250_66, ElectrodeConductors) {
  const auto end_of = [](const std::string& range) -> std::string {
    const std::size_t smaller = range.find(" or smaller");
    if (smaller != std::string::npos) return range.substr(0, smaller);
    for (const std::string_view between : {" or ", " through "})
      if (const auto at = range.find(between); at != std::string::npos)
        return range.substr(at + between.size());
    return {};
  };
  const auto area_of = [](const std::string& size) {
    if (size.size() >= 3 && size.find('/') == std::string::npos) return std::stod(size) * 1000;
    return Shipped(table("conductor-circular-mils"), {size + " AWG"}).number("circular-mils");
  };
  const Table& t = table("electrode-conductor");
  const auto rows = rows_of("gec_250_66.csv");
  ASSERT_EQ(t.row_count(), rows.size());
  for (std::uint32_t row = 0; row < t.row_count(); ++row) {
    const Row& r = rows[row];
    const Shipped ours(t, {t.key(row, 0)});
    ours.is("copper", size_of(r.at("gec_copper_awg_kcmil")));
    ours.is("aluminum", size_of(r.at("gec_aluminum_awg_kcmil")));
    ours.claims(r.at("basis"));
    for (const char* metal : {"copper", "aluminum"}) {
      const std::string column = std::string(metal) + "-supply";
      std::string end = end_of(r.at(std::string("service_conductor_") + metal));
      if (row == 0 && end == "1") end = "1/0";
      if (end.empty()) {
        EXPECT_EQ(ours.count(column), Table::blank) << "row " << row;
      } else {
        EXPECT_EQ(ours.number(column), area_of(end)) << "row " << row << ' ' << metal;
      }
    }
  }
}

/// Smallest and largest trade sizes and the limit of bends, .20 and .26 of the raceway articles, by edition.
/// Of ENT only the edition of 2008 was read, which had no 2-1/2: not compared.
TEST(RacewayArticles, SizesAndBends) {
  int compared = 0;
  for (const Row& r : rows_of("raceway_sizes_bends.csv")) {
    const std::string& raceway = r.at("raceway");
    if (raceway == "ENT") continue;
    const bool before = r.at("edition").ends_with("2020") || r.at("edition").ends_with("2017 and 2020");
    const LoadedLaw loaded = load_shipped_ruleset(before ? "nec-2020" : "nec-2023");
    ASSERT_TRUE(loaded.law);
    for (const char* type :
         {"EMT", "IMC", "RMC", "PVC-40", "PVC-80", "FMC", "LFMC", "LFNC-A", "LFNC-B", "LFNC-C"}) {
      if (!std::string_view(type).starts_with(raceway)) continue;
      const Shipped size(*loaded.law->table("raceway-size"), {type});
      const Shipped bends(*loaded.law->table("bend-limit"), {type});
      if (!size || !bends) continue;
      size.is("smallest", r.at("min_trade_size"));
      size.is("largest", r.at("max_trade_size"));
      bends.is("limit", r.at("max_bend_between_pull_points_deg"));
      ++compared;
    }
  }
  EXPECT_EQ(compared, 12);
}

struct SupportRow {
  std::string condition, unsecured;
};

/// The printed condition in our words, and the unsecured length that it names.
SupportRow support_of(const std::string& printed) {
  const auto has = [&](std::string_view words) { return printed.find(words) != std::string::npos; };
  const auto length = [&]() -> std::string {
    const auto at = printed.find("length to ");
    return at == std::string::npos ? "" : printed.substr(at + 10, printed.find(' ', at + 10) - at - 10);
  };
  if (has("luminaire")) return {"ceiling-whip", length()};
  if (has("flexibility")) return {"flexibility-needed", length()};
  if (has("fastening point") || has("ready fastening")) return {"no-fastening-point", ""};
  if (has("risers")) return {"vertical-riser", ""};
  if (has("threaded couplings")) return {"threaded-straight", ""};
  return {"general", ""};
}

TEST(RacewaySupport, DistancesByTypeAndSize) {
  const std::map<std::string, std::vector<std::string>> types = {{"PVC", {"PVC-40", "PVC-80"}},
                                                                 {"LFNC", {"LFNC-A", "LFNC-B", "LFNC-C"}}};
  const std::map<std::string, std::vector<std::string>> ranges = {
      {"1/2 to 1-1/4", {"1/2", "3/4", "1", "1-1/4"}},
      {"1-1/2 to 2", {"1-1/2", "2"}},
      {"2-1/2 and larger", {"2-1/2", "3", "3-1/2", "4"}}};
  std::size_t checked = 0;
  for (const Row& r : rows_of("raceway_support.csv")) {
    const auto each = [&](const auto& map, const std::string& name) {
      const auto found = map.find(name);
      return found == map.end() ? std::vector{name} : found->second;
    };
    const SupportRow printed = support_of(r.at("condition"));
    for (const std::string& type : each(types, r.at("raceway"))) {
      for (const std::string& size : each(ranges, r.at("trade_size_range"))) {
        const Shipped ours(table("raceway-support"), {type, size, printed.condition});
        if (!ours) continue;
        ours.is("spacing", r.at("max_support_spacing_ft"));
        ours.is("termination", r.at("max_distance_to_box_or_termination_ft"));
        ours.is("unsecured", printed.unsecured);
        ours.claims(r.at("basis"));
        ++checked;
      }
    }
  }
  // Twelve rows for RTRC, four for wireways, ten for IMC with threaded couplings and one for a luminaire on
  // LFMC are ours from memory alone; three rows say of LFNC that it needs no support up to the length above
  // which the printed row asks for it. Seven of fished raceways, four of pendant stems and five of pieces
  // that an authority may accept are from memory too.
  EXPECT_EQ(table("raceway-support").row_count(), checked + 12 + 4 + 11 + 3 + 7 + 4 + 5);
}

// Table 310.16 (310.15(B)(16) before 2020): source S01 and S02.
TEST(Table310_16, Ampacities) {
  const auto rows = rows_of("ampacity_310_16.csv");
  EXPECT_EQ(table("ampacity").row_count(), rows.size());
  for (const Row& r : rows) {
    const char* const metal = r.at("conductor") == "copper" ? "copper" : "aluminum";
    const Shipped ours(table("ampacity"),
                       {metal, size_of(r.at("size_awg_kcmil")), r.at("temperature_rating_C") + "C"});
    if (!ours) continue;
    ours.is("ampacity", r.at("ampacity_A"));
    ours.claims(r.at("basis"));
  }
}

// Table 310.15(B)(1)(1): source S01. The printed ranges of whole degrees are taken by their upper ends.
TEST(Table310_15B, AmbientFactors) {
  const auto rows = rows_of("ambient_correction_310_15B1.csv");
  EXPECT_EQ(table("ambient-correction").row_count(), rows.size());
  for (const Row& r : rows) {
    const std::string& printed = r.at("ambient_C");
    const bool first = printed.find("or less") != std::string::npos;
    const std::string up_to =
        first ? printed.substr(0, printed.find(' ')) : printed.substr(printed.find('-') + 1);
    const Shipped ours(table("ambient-correction"), {up_to + "C", r.at("temperature_rating_C") + "C"});
    if (!ours) continue;
    ours.is("factor", r.at("factor"));
    ours.claims(r.at("basis"));
  }
}

// Table 310.15(C)(1): source S29. The shipped table has a row more, for up to three conductors.
TEST(Table310_15C, AdjustmentFactors) {
  const auto rows = rows_of("adjustment_310_15C1.csv");
  EXPECT_EQ(table("conductor-count-adjustment").row_count(), rows.size() + 1);
  for (const Row& r : rows) {
    const Shipped ours(table("conductor-count-adjustment"), {r.at("current_carrying_conductors_min")});
    if (!ours) continue;
    ours.is("share", r.at("percent"));
    ours.claims(r.at("basis"));
  }
}

// Table 240.6(A): sources S44 and S33.
TEST(Table240_6, StandardRatings) {
  const auto rows = rows_of("ocpd_standard_240_6.csv");
  EXPECT_EQ(table("standard-rating").row_count(), rows.size());
  for (const Row& r : rows) {
    const Shipped ours(table("standard-rating"), {r.at("rating_A")});
    if (!ours) continue;
    ours.is("amperes", r.at("rating_A"));
    ours.is("of", r.at("applies_to"));
    ours.claims(r.at("basis"));
  }
}

TEST(MotorCurrents, ByHorsepowerAndVoltage) {
  std::size_t rows = 0;
  for (const std::string phases : {"one", "three"}) {
    const bool one = phases == "one";
    for (const Row& r : rows_of(one ? "motor_current_430_248.csv" : "motor_current_430_250.csv")) {
      ++rows;
      const Shipped ours(table("motor-current"), {phases, r.at("horsepower")});
      if (!ours) continue;
      ours.claims("READ");
      for (const auto& [column, printed] : r)
        if (column != "horsepower") ours.is("v" + column, printed);
    }
  }
  EXPECT_EQ(table("motor-current").row_count(), rows);
}

}  // namespace
}  // namespace raceward::published
