// A rule and a local amendment of somebody who has the installed headers only: house_rule FILE
//
// Asks by it on several threads, with a log, and prints what differs from what must come: nothing.
#include <algorithm>
#include <future>
#include <iostream>
#include <raceward/engine.hpp>
#include <string>
#include <vector>

namespace {

using namespace raceward;

constexpr std::string_view figures_read[] = {"raceway-length"};
constexpr std::string_view parameters_read[] = {"longest-pull"};
constexpr std::string_view messages[] = {"{where} is {measured} long, and at most {limit} is advised"};

Verdict judge(const Context& c) {
  Reading length = c.figure(0);
  length.amount.unit = Unit::foot;
  return c.at_most(length, c.parameter(0));
}

constexpr Rule house_rule{
    .id = "house-longest-pull",
    .title = "No raceway is longer than can be pulled with ease",
    .why = "Conductors stick in a long raceway.",
    .subject = SubjectKind::raceway,
    .figures = figures_read,
    .parameters = parameters_read,
    .messages = messages,
    .reasons = {},
    .cure = "Set a box on the way.",
    .judge = judge,
};

/// The law with the house's rule in force, its limit, and one of the shipped rules switched off.
Law amended(Law law) {
  const auto cite = static_cast<CitationId>(law.citations.size());
  law.citations.push_back({"House rules", "2026", "1", Basis::common_practice, "", ""});
  law.parameters.push_back({parameters_read[0].data(), show(feet(1), Unit::foot), "1ft", cite});
  std::sort(law.parameters.begin(), law.parameters.end(),
            [](const Parameter& a, const Parameter& b) { return a.name < b.name; });
  for (RuleSetting& setting : law.rules) {
    if (setting.rule == "bend-radius") setting.force = RuleSetting::Force::off;
  }
  law.rules.push_back({std::string(house_rule.id), RuleSetting::Force::advised, {cite}});
  std::sort(law.rules.begin(), law.rules.end(),
            [](const RuleSetting& a, const RuleSetting& b) { return a.rule < b.rule; });
  return law;
}

int wrong = 0;
void expect(bool holds, const char* what) {
  if (holds) return;
  std::cout << "not so: " << what << '\n';
  wrong = 1;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 4;
  const Loaded loaded = load_file(argv[1]);
  const LoadedLaw ruleset = load_shipped_ruleset("nec-2023");
  if (!loaded.installation || !ruleset.law) return 3;
  const std::vector<FigureInfo> all = all_figures();
  expect(std::any_of(all.begin(), all.end(), [](const FigureInfo& f) { return f.name == figures_read[0]; }),
         "the figure that the rule reads is listed");

  const Law law = amended(*ruleset.law);
  std::vector<std::future<std::string>> reports;
  for (int i = 0; i < 4; ++i) {
    reports.push_back(std::async(std::launch::async, [&] {
      std::string lines;
      CheckOptions options;
      options.extra_rules = {&house_rule};
      options.log = [&lines](int, std::string_view line) { lines.append(line) += '\n'; };
      const Report report = check(*loaded.installation, law, options);
      return text_report(report) + json_report(report) + lines;
    }));
  }
  std::vector<std::string> texts;
  for (auto& report : reports) texts.push_back(report.get());
  for (const std::string& text : texts) expect(text == texts.front(), "every thread gets the same report");
  for (const char* part :
       {"and at most 1 ft is advised", "House rules-2026: 1 [common practice]",
        "rule bend-radius: ruleset nec-2023 switches it off", "rule house-longest-pull: "}) {
    expect(texts.front().find(part) != std::string::npos, part);
  }

  const Loaded bad = load_bytes("<installation", "bytes");
  expect(!bad.installation && bad.problems.size() == 1 && text_of(bad.problems[0]).starts_with("bytes:1:"),
         "bad bytes give a problem with its place");
  return wrong;
}
