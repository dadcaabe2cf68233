// Expressions of data rules: what is read, and what is refused with its place.
#include "ruleset/xpath.hpp"

#include <gtest/gtest.h>

#include <map>

#include "ruleset/xpath_compared.hpp"

namespace raceward::ruleset::test {
namespace {

struct Asked {
  std::optional<ExpressionFault> fault;
  Expression expression;
};

Parameter parameter(std::string name, Amount value) {
  Parameter p;
  p.name = std::move(name);
  p.value = value;
  return p;
}

Names names_of(SubjectKind kind) {
  static const facts::Shapes shapes;
  static const std::map<std::string, Parameter, std::less<>> parameters = [] {
    std::map<std::string, Parameter, std::less<>> out;
    out["reach"] = parameter("reach", show(feet(6), Unit::foot));
    out["most"] = parameter("most", {number(3).count(), Unit::one});
    out["factor"] = parameter("factor", {number(5).count() / 4, Unit::one});
    out["fill"] = parameter("fill", {number(1).count() / 4, Unit::percent});
    out["kind"] = parameter("kind", {});
    out["kind"].is_word = true;
    out["kind"].text = "EMT";
    out["wrong-kind"] = out["kind"];
    out["wrong-kind"].text = "EMTX";
    return out;
  }();
  Names names;
  names.subject = &shapes.of(kind);
  names.parameter = [](std::string_view name) {
    const auto found = parameters.find(name);
    return found == parameters.end() ? nullptr : &found->second;
  };
  for (const auto& [name, p] : parameters) names.parameters.push_back(name);
  return names;
}

Asked ask(SubjectKind kind, std::string_view text, Gives gives = Gives::truth,
          std::vector<std::string> may_lack = {}) {
  Names names = names_of(kind);
  names.may_lack = std::move(may_lack);
  Asked out;
  out.fault = check_expression(text, gives, names, out.expression);
  return out;
}

class Good : public testing::TestWithParam<std::pair<SubjectKind, const char*>> {};

TEST_P(Good, IsRead) {
  const auto& [kind, text] = GetParam();
  const Asked asked = ask(kind, text);
  EXPECT_FALSE(asked.fault) << text << ": " << asked.fault->offset << " " << asked.fault->message;
}

using enum SubjectKind;
INSTANTIATE_TEST_SUITE_P(
    Expressions, Good,
    testing::Values(
        std::pair{raceway, "@type = 'EMT'"}, std::pair{raceway, "@type = $kind or @type='RMC'"},
        std::pair{raceway, "figures/@raceway-length <= $reach"},
        std::pair{raceway, "@length - 2 * $reach > 0"},
        std::pair{raceway, "round(@length * $factor) <= $reach"},
        std::pair{raceway, "figures/@raceway-fill <= $fill"},
        std::pair{raceway, "count(support[@kind = 'strap']) >= $most"},
        std::pair{raceway, "end[@side='from']/@tight = 'yes'"},
        std::pair{raceway, "not(circuit/@voltage > 0)"},
        std::pair{raceway, "area/@location = 'dry' and circuit"},
        std::pair{raceway, "end/place/@element != 'joint'"},
        std::pair{raceway, "child::end/attribute::bonded = 'no'"},
        std::pair{raceway, "sum(straight/@length) < $reach"},
        std::pair{raceway, "floor(@length div $reach) = 2"}, std::pair{box, "count(raceway) * 2 <= 8"},
        std::pair{box, "contains(@name, 'x') or starts-with(@id, 'B')"},
        std::pair{device, "place/@mounting-height >= -$reach"},
        std::pair{circuit, "overcurrent-device/@rating >= @load"},
        std::pair{installation, "count(raceway[@type = 'EMT']) < 5"},
        std::pair{installation, "not(raceway[figures/@raceway-length > $reach])"},
        std::pair{pull_section, "figures/@bend-total > 0 and raceway/@type = 'EMT'"},
        std::pair{place, "area/@location = 'wet'"}, std::pair{conductor, "circuit/@kind = 'branch'"},
        std::pair{overcurrent_device, "panel/@rating >= @rating"}, std::pair{raceway, "number(@name) > 3"},
        std::pair{circuit, "sum(raceway/figures/@raceway-length) <= $reach"},
        std::pair{box, "not(raceway[@type = 'EMT' and figures/@raceway-length > $reach])"},
        std::pair{device, "installation/@occupancy = 'dwelling'"},
        std::pair{conductor, "number(translate(installation/@permit-date, '-', '')) >= 20260401"}));

struct Bad {
  const char* text;     ///< with ^ where the fault stands
  const char* message;  ///< how it begins
  SubjectKind kind = raceway;
  Gives gives = Gives::truth;
};

class BadExpression : public testing::TestWithParam<Bad> {};

TEST_P(BadExpression, IsRefusedWithItsPlace) {
  const Bad& bad = GetParam();
  std::string text = bad.text;
  const std::size_t at = text.find('^');
  ASSERT_NE(at, std::string::npos);
  text.erase(at, 1);
  const Asked asked = ask(bad.kind, text, bad.gives);
  ASSERT_TRUE(asked.fault) << text;
  EXPECT_EQ(asked.fault->offset, at) << text << ": " << asked.fault->message;
  EXPECT_TRUE(asked.fault->message.starts_with(bad.message)) << text << ": " << asked.fault->message;
}

INSTANTIATE_TEST_SUITE_P(
    Names, BadExpression,
    testing::Values(
        Bad{"@^tipe = 'EMT'", "a raceway has no fact \"tipe\"; did you mean \"type\"?"},
        Bad{"figures/@^raceway-fil > 0",
            "a raceway has no figure \"raceway-fil\"; did you mean \"raceway-fill\"?"},
        Bad{"sum(raceway/figures/@^raceway-fill) > 0",
            "a raceway that is joined bears no figure but raceway-length", circuit},
        Bad{"installation/^area/@use = 'attic'", "an installation has no \"area\" in it"},
        Bad{"^suport", "a raceway has no \"suport\" in it; did you mean \"support\"?"},
        Bad{"@^raceway-fill > 0", "\"raceway-fill\" is a figure; write figures/@raceway-fill"},
        Bad{"^length > $reach", "\"length\" is a fact; write @length"},
        Bad{"@length > ^$reech", "the ruleset has no parameter \"reech\"; did you mean \"reach\"?"},
        Bad{"^cont(support) > 1", "function \"cont\" is not read here; did you mean \"count\"?"},
        Bad{"^count() > 1", "count() takes 1 argument"},
        Bad{"@type = ^'EMTT'", "\"EMTT\" is no word of this fact; did you mean \"EMT\"?"},
        Bad{"@type = ^$wrong-kind", "\"EMTX\" is no word of this fact"},
        Bad{"figures^", "a figure is written as figures/@name"},
        Bad{"circuit/^figures/@circuit-load > 0", "a circuit that is joined bears facts"},
        Bad{"run/stop/^place/@rating > 0", "\"place\" is a fact of a stop, and leads no further", circuit},
        Bad{"end[@^tigth = 'yes']", "an end has no fact \"tigth\""}));

INSTANTIATE_TEST_SUITE_P(Form, BadExpression,
                         testing::Values(Bad{"@type = ^", "the expression ends too early"},
                                         Bad{"@type ^'EMT'", "\"EMT\" has no meaning here"},
                                         Bad{"(@type = 'EMT'^", "a \")\" is missing here"},
                                         Bad{"^", "the expression ends too early"},
                                         Bad{"@type = ^#", "\"#\" has no meaning here"},
                                         Bad{"@type = ^'EMT", "this quote is not closed"},
                                         Bad{"support ^| end", "| is not read here"},
                                         Bad{"(end)^/@tight = 'yes'", "a path cannot go on behind brackets"},
                                         Bad{"@type^[1]", "nothing stands in a fact"}));

INSTANTIATE_TEST_SUITE_P(
    Costly, BadExpression,
    testing::Values(Bad{"^/installation", "a path begins at the subject"},
                    Bad{"^//raceway", "a path begins at the subject"},
                    Bad{"end^//place", "// is not allowed"}, Bad{"^../@id = 'x'", ".. is not allowed"},
                    Bad{"^following::raceway", "the axis following is not allowed"},
                    Bad{"^preceding-sibling::raceway", "the axis preceding-sibling is not allowed"},
                    Bad{"^ancestor::installation", "the axis ancestor is not allowed"},
                    Bad{"^descendant::end", "the axis descendant is not allowed"},
                    Bad{"^*", "* is not allowed"}, Bad{"@^* = 'x'", "* is not allowed"},
                    Bad{"end[^1]", "elements are not counted off"},
                    Bad{"^end/@place = circuit/@id", "several are compared with several"},
                    Bad{"^raceway/@from = box/@id", "several are compared with several", installation}));

INSTANTIATE_TEST_SUITE_P(
    OneOfSeveral, BadExpression,
    testing::Values(Bad{"^circuit/@voltage <= 0", "this holds as soon as one of several does", raceway,
                        Gives::must},
                    Bad{"not(not(^circuit/@voltage <= 0))", "this holds as soon", raceway, Gives::must},
                    Bad{"@type = 'EMT' and (@to = 'K1' or ^end/@tight = 'yes')", "this holds as soon",
                        raceway, Gives::must},
                    Bad{"boolean(^end/@tight = 'yes')", "this holds as soon", raceway, Gives::must},
                    Bad{"(^end/@tight = 'yes') = true()", "this holds as soon", raceway, Gives::must},
                    Bad{"not((^end/@tight = 'no') = true())", "this holds as soon", raceway, Gives::must}));

TEST(Expression, OfWhatMustHoldMayAskOfAllAndOfSome) {
  for (const char* text : {"not(circuit/@voltage > 0)", "count(circuit[@voltage > 0]) = 0",
                           "not(circuit/@voltage > 0 or end/@tight = 'no')", "area/@location = 'dry'",
                           "end[@side = 'to']/place/@id = 'B1' or @to = 'K1'"}) {
    const Asked asked = ask(raceway, text, Gives::must);
    EXPECT_FALSE(asked.fault) << text << ": " << asked.fault->message;
  }
}

INSTANTIATE_TEST_SUITE_P(Lists, BadExpression,
                         testing::Values(Bad{"not(^conductor/@insulation = 'THHN')", "this may hold several",
                                             circuit},
                                         Bad{"^@insulation != 'THHN'", "this may hold several", conductor},
                                         Bad{"not(^@circuit = 'C1')", "this may hold several", device},
                                         Bad{"'C1' = ^@circuit", "this may hold several", device}));

INSTANTIATE_TEST_SUITE_P(
    Kinds, BadExpression,
    testing::Values(Bad{"^@length", "whether this is there cannot be asked"},
                    Bad{"not(^@unbroken)", "whether this is there"},
                    Bad{"^support", "whether this is there cannot be asked"},
                    Bad{"^count(support)", "this gives a plain number"},
                    Bad{"@length > ^5", "5 has no unit, and stands beside a length"},
                    Bad{"@length > figures/@^bend-total", "a raceway has no figure"},
                    Bad{"^@length > figures/@raceway-bends", "a length beside an angle"},
                    Bad{"^figures/@raceway-fill > $factor", "a share beside a plain number"},
                    Bad{"figures/@raceway-fill > ^40", "40 has no unit"},
                    Bad{"^@type = 3", "a text is compared with a plain number"},
                    Bad{"^@type < 'EMT'", "a text has no order"},
                    Bad{"^support = 'x'", "an element has no value"},
                    Bad{"^@length * $factor <= $reach", "a quotient, or a product or a sum with a fraction"},
                    Bad{"^@length div 3 <= $reach", "a quotient"},
                    Bad{"@length ^* @length > 0", "a length times a length"},
                    Bad{"^@type + 1 > 2", "a text is no number"},
                    Bad{"^straight/@length + $reach > 0", "this may lead to several"},
                    Bad{"count(^@length) = 1", "count() counts elements"},
                    Bad{"count(^conductor) = 1", "an element stands for as many alike as its count says"},
                    Bad{"count(^conductor[@role = 'grounded']) = 1", "an element stands for as many alike"},
                    Bad{"^round(count(support) * 1.25) = 1", "round() takes less than a half away"},
                    Bad{"sum(^support) = 1", "sum() adds a number"},
                    Bad{"contains(^@length, 'x')", "contains() takes a text"},
                    Bad{"end[@row ^mod 2 = 1]", "\"mod\" is not allowed within [ ]"},
                    Bad{"^@type", "this gives a text, and a number is wanted", raceway, Gives::number},
                    Bad{"^straight/@length", "this may lead to several", raceway, Gives::number},
                    Bad{"^@length div 3", "a quotient", raceway, Gives::number}));

TEST(Expression, SaysWhatItReads) {
  const Asked asked =
      ask(raceway, "@type = 'EMT' and end[@side = 'from']/@tight = 'yes' and figures/@raceway-fill <= $fill");
  ASSERT_FALSE(asked.fault);
  const Reads& reads = asked.expression.reads;
  ASSERT_EQ(reads.facts.size(), 1u);
  EXPECT_EQ(reads.facts[0].row->name, "type");
  EXPECT_TRUE(reads.facts[0].needed);
  ASSERT_EQ(reads.figures.size(), 1u);
  EXPECT_EQ(reads.figures[0].info->name, "raceway-fill");
  ASSERT_EQ(reads.parts.size(), 1u);
  EXPECT_TRUE(reads.parts[0].some_fact);
  ASSERT_EQ(reads.parts[0].of.facts.size(), 2u);
  EXPECT_EQ(asked.expression.parameters, std::vector<std::string>{"fill"});
}

TEST(Expression, LetsLackWhatIsNamed) {
  EXPECT_FALSE(
      ask(raceway, "not(@name) and support/@kind = 'strap'", Gives::truth, {"@name", "support"}).fault);
  const Asked asked = ask(raceway, "end/@bonded = 'yes'", Gives::truth, {"end/@bonded"});
  ASSERT_FALSE(asked.fault);
  EXPECT_FALSE(asked.expression.reads.parts[0].of.facts[0].needed);
  EXPECT_EQ(asked.expression.lacking, std::vector<std::string>{"end/@bonded"});
}

TEST(Expression, OfAnyLengthAndDepthIsAnsweredSoon) {
  EXPECT_TRUE(ask(raceway, std::string(3000, '(')).fault);
  EXPECT_TRUE(ask(raceway, std::string(3000, '-') + "1 > 0").fault);
  EXPECT_TRUE(ask(raceway, "true()" + std::string(10'000, ' ')).fault);
  std::string nested;
  for (int i = 0; i < 400; ++i) nested += "end[";
  EXPECT_TRUE(ask(raceway, nested).fault);
}

/// Expressions that must all hold; of the last one, where the comparison stands that never can.
struct Together {
  std::vector<const char*> all;
  std::string_view fault;
  std::vector<std::string> may_lack = {};
};
class NeverTogether : public testing::TestWithParam<Together> {};

std::optional<ExpressionFault> fault_of(const std::vector<const char*>& all,
                                        std::vector<std::string> may_lack = {}) {
  Names names = names_of(raceway);
  names.may_lack = std::move(may_lack);
  Compared compared(names);
  std::optional<ExpressionFault> fault;
  for (const char* text : all) {
    Expression ignored;
    const auto wrong = check_expression(text, Gives::truth, names, ignored);
    EXPECT_FALSE(wrong) << text << ": " << wrong->message;
    EXPECT_FALSE(fault);
    fault = compared.add(text);
  }
  return fault;
}

TEST_P(NeverTogether, IsRefusedWithItsPlace) {
  const auto fault = fault_of(GetParam().all);
  ASSERT_TRUE(fault) << GetParam().all.back();
  EXPECT_TRUE(std::string_view(GetParam().all.back()).substr(fault->offset).starts_with(GetParam().fault))
      << fault->offset;
  EXPECT_TRUE(fault->message.starts_with("this can never hold: ")) << fault->message;
}

INSTANTIATE_TEST_SUITE_P(
    Comparisons, NeverTogether,
    testing::Values(
        Together{{"@type = 'EMT' and @type = 'RMC'"}, "@type = 'RMC'"},
        Together{{"@type = 'EMT'", "@type != 'EMT'"}, "@type != 'EMT'"},
        Together{{"@type = $kind", "'RMC' = @type"}, "'RMC' = @type"},
        Together{{"@type = 'EMT' and not(@type = 'EMT')"}, "@type = 'EMT'"},
        Together{{"@length > $reach and (@length < $reach or @length = $reach)"}, "@length < $reach"},
        Together{{"@length > $reach", "$reach >= @length"}, "$reach >= @length"},
        Together{{"count(support) < 3 and count(support) >= $most"}, "count(support) >= $most"},
        Together{{"sum(conductor/@count) = 3 and sum(conductor/@count) = 2.5"},
                 "sum(conductor/@count) = 2.5"},
        Together{{"@type = 'RMC' or (@length = $reach and @length > $reach)"}, "@length > $reach"},
        Together{{"figures/@raceway-fill > $fill", "figures/@raceway-fill = 0"},
                 "figures/@raceway-fill = 0"}));

TEST(ComparedTogether, WhatCanHoldIsTaken) {
  using All = std::vector<const char*>;
  for (const All& all :
       {All{"@type = 'EMT' or @type = 'RMC'", "@type = 'RMC'"},
        All{"end/@tight = 'yes' and end/@tight = 'no'"}, All{"circuit/@voltage > 0 and circuit/@voltage < 0"},
        All{"@type != 'EMT' and @type != 'RMC'"}, All{"@length >= $reach", "@length <= $reach"},
        All{"count(support) > 2 and count(end) < 2"}, All{"count(support) > 2 and count(support) != 2"},
        All{"$kind = 'EMT' and $kind = 'RMC'"},
        All{"count(support[@at > $reach]) > 1 and count(support[@at < $reach]) < 1"}})
    EXPECT_FALSE(fault_of(all)) << all.back();
  EXPECT_FALSE(fault_of({"not(@length > $reach) and not(@length <= $reach)"}, {"@length"}))
      << "where it is absent, both hold";
}

}  // namespace
}  // namespace raceward::ruleset::test
