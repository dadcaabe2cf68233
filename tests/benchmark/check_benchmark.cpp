// The whole check against the bare parse of the same bytes, in one run; then its parts and each rule.
#include <benchmark/benchmark.h>
#include <malloc.h>

#include <algorithm>
#include <cstring>
#include <iterator>
#include <map>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/engine.hpp"
#include "support/generate.hpp"

namespace {

using namespace raceward;

/// A generated document, made once a size; `faults` in percent.
const std::string& document(std::int64_t raceways, std::int64_t faults) {
  static std::map<std::pair<std::int64_t, std::int64_t>, std::string> made;
  std::string& text = made[{raceways, faults}];
  if (text.empty()) {
    text = test::generate({.raceways = static_cast<std::uint32_t>(raceways),
                           .seed = 7,
                           .faults = static_cast<double>(faults) / 100});
  }
  return text;
}

const Law& law() {
  static const LoadedLaw loaded = load_ruleset("nec-2023");
  return *loaded.law;
}

/// Raceway fill, box volume, support, bends and grounding alone: what a check costs with few rules.
const Law& law_of_five_modules() {
  static const Law few = [] {
    constexpr std::string_view modules[] = {"bend-radius",
                                            "bend-total",
                                            "box-volume",
                                            "conduit-body-size",
                                            "conduit-body-volume",
                                            "device-grounding",
                                            "grounding-conductor-size",
                                            "grounding-path",
                                            "pull-box-entry-spacing",
                                            "pull-box-size",
                                            "raceway-fill",
                                            "support-at-terminations",
                                            "support-spacing"};
    Law made = law();
    for (RuleSetting& setting : made.rules) {
      if (std::ranges::find(modules, setting.rule) == std::end(modules))
        setting.force = RuleSetting::Force::off;
    }
    return made;
  }();
  return few;
}

/// Ten rules that are data, and no others.
const Law& law_of_ten_data_rules() {
  static const Law ten = [] {
    constexpr std::pair<SubjectKind, const char*> rules[] = {
        {SubjectKind::raceway, "@type = 'EMT' or @type = 'RMC' or @type = 'IMC'"},
        {SubjectKind::raceway, "figures/@raceway-fill <= figures/@raceway-fill-limit"},
        {SubjectKind::raceway, "figures/@raceway-length <= 100 * figures/@support-gap-limit"},
        {SubjectKind::raceway, "not(end/@tight = 'no')"},
        {SubjectKind::raceway, "area/@location != 'wet' or @corrosion-protected = 'yes'"},
        {SubjectKind::raceway, "not(circuit/@voltage > 0 and circuit/@voltage < 0)"},
        {SubjectKind::box, "@covered = 'yes' and count(raceway) < 20"},
        {SubjectKind::box, "figures/@box-volume >= figures/@box-volume-needed"},
        {SubjectKind::circuit, "overcurrent-device/@rating >= @load"},
        {SubjectKind::pull_section, "figures/@bend-total <= figures/@bend-total-limit"},
    };
    Law made = law();
    for (RuleSetting& setting : made.rules) setting.force = RuleSetting::Force::off;
    const std::vector<CitationId> cites = made.rules.front().cites;
    int number = 0;
    for (const auto& [subject, test] : rules) {
      DataRule rule;
      rule.id = "zz-data-" + std::to_string(number++);
      rule.subject = subject;
      rule.asserts.push_back({test, "", "", "{where} breaks it", ""});
      RuleSetting setting;
      setting.rule = rule.id;
      setting.cites = cites;
      made.rules.push_back(setting);
      made.data_rules.push_back(rule);
    }
    return made;
  }();
  return ten;
}

void say(benchmark::State& state, const std::string& text) {
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
  state.counters["per_raceway"] =
      benchmark::Counter(static_cast<double>(state.range(0)),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

// Memory once had stays with the process: new pages cost more than twice what a parse itself does, and what
// is compared here is warm.
[[maybe_unused]] const bool memory_stays = mallopt(M_MMAP_MAX, 0) == 1 && mallopt(M_TRIM_THRESHOLD, -1) == 1;

void bare_parse(benchmark::State& state) {
  const std::string& text = document(state.range(0), 0);
  std::vector<char> buffer(text.size());
  std::memcpy(buffer.data(), text.data(), text.size());
  static_cast<void>(pugi::xml_document().load_buffer_inplace(buffer.data(), buffer.size()));
  for (auto _ : state) {
    state.PauseTiming();
    std::memcpy(buffer.data(), text.data(), text.size());
    {
      pugi::xml_document doc;
      state.ResumeTiming();
      benchmark::DoNotOptimize(doc.load_buffer_inplace(buffer.data(), buffer.size()));
      state.PauseTiming();
    }
    state.ResumeTiming();
  }
  say(state, text);
}

// The bytes, with room behind them; filled outside of what is measured, as for the bare parse.
std::string bytes_of(const std::string& text) {
  std::string bytes;
  bytes.reserve(text.size() + loading_room);
  bytes.append(text);
  return bytes;
}

/// Once unmeasured, so that memory is there; then without the copy before it and the cleaning up after it.
template <class Work>
void measure_warm(benchmark::State& state, const std::string& text, Work work) {
  static_cast<void>(work(bytes_of(text)));
  for (auto _ : state) {
    state.PauseTiming();
    {
      std::string bytes = bytes_of(text);
      state.ResumeTiming();
      auto made = work(std::move(bytes));
      benchmark::DoNotOptimize(made);
      state.PauseTiming();
    }
    state.ResumeTiming();
  }
}

void load(benchmark::State& state, unsigned threads) {
  const std::string& text = document(state.range(0), 0);
  measure_warm(state, text, [&](std::string&& bytes) {
    Loaded loaded = load_moved(std::move(bytes), "generated.xml", threads);
    if (!loaded.installation) state.SkipWithError("the document does not load");
    return loaded;
  });
  say(state, text);
}

CheckOptions on(unsigned threads, Detail detail = Detail::all) {
  CheckOptions options;
  options.threads = threads;
  options.detail = detail;
  return options;
}

void check_loaded(benchmark::State& state, unsigned threads) {
  const std::string& text = document(state.range(0), state.range(1));
  const Loaded loaded = load_bytes(text, "generated.xml");
  for (auto _ : state) {
    Report report = check(*loaded.installation, law(), on(threads));
    benchmark::DoNotOptimize(report);
    state.PauseTiming();
    report = {};
    state.ResumeTiming();
  }
  say(state, text);
}

void whole_check(benchmark::State& state, unsigned threads, const Law& (*rules)(),
                 Detail detail = Detail::all) {
  const std::string& text = document(state.range(0), state.range(1));
  std::size_t findings = 0;
  measure_warm(state, text, [&](std::string&& bytes) {
    Loaded loaded = load_moved(std::move(bytes), "generated.xml", threads);
    Report report = check(*loaded.installation, rules(), on(threads, detail));
    findings = report.findings.size();
    return std::pair(std::move(loaded), std::move(report));
  });
  state.counters["findings"] = static_cast<double>(findings);
  say(state, text);
}

/// Verdicts of all, and words for as many as a page shows.
void first_words(benchmark::State& state, const Law& (*rules)()) {
  constexpr std::size_t shown = 50;
  const std::string& text = document(state.range(0), state.range(1));
  measure_warm(state, text, [&](std::string&& bytes) {
    Loaded loaded = load_moved(std::move(bytes), "generated.xml");
    CheckOptions options = on(0, Detail::verdicts);
    options.worded = shown;
    Report report = check(*loaded.installation, rules(), options);
    return std::pair(std::move(loaded), std::move(report));
  });
  say(state, text);
}

const Installation& installation_of(std::int64_t raceways) {
  static std::map<std::int64_t, Loaded> made;
  Loaded& loaded = made[raceways];
  if (!loaded.installation) loaded = load_bytes(document(raceways, 0), "generated.xml");
  return *loaded.installation;
}

void all_figures_told(benchmark::State& state) {
  const Installation& installation = installation_of(state.range(0));
  std::size_t told = 0;
  for (auto _ : state) {
    const std::vector<FigureLine> lines = figures(installation, law());
    told = lines.size();
    benchmark::DoNotOptimize(told);
  }
  state.counters["figures"] = static_cast<double>(told);
  say(state, document(state.range(0), 0));
}

void one_rule(benchmark::State& state, const std::string& rule) {
  const std::string& text = document(state.range(0), 0);
  const Installation& installation = installation_of(state.range(0));
  Law only = law();
  for (RuleSetting& setting : only.rules) {
    if (setting.rule != rule) setting.force = RuleSetting::Force::off;
  }
  for (auto _ : state) benchmark::DoNotOptimize(check(installation, only, on(1)));
  say(state, text);
}

void sizes(benchmark::internal::Benchmark* b) {
  b->RangeMultiplier(10)->Range(100, 100'000)->Unit(benchmark::kMillisecond);
}

/// Time on the clock: the processor's counts one thread only.
void sizes_and_faults(benchmark::internal::Benchmark* b) {
  b->ArgsProduct({{100, 1000, 10'000, 100'000}, {0, 1, 100}})->Unit(benchmark::kMillisecond)->UseRealTime();
}

BENCHMARK(bare_parse)->Apply(sizes);
BENCHMARK_CAPTURE(load, one_thread, 1)->Apply(sizes);
BENCHMARK_CAPTURE(load, all_threads, 0)->Apply(sizes);
BENCHMARK_CAPTURE(check_loaded, one_thread, 1)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(check_loaded, all_threads, 0)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, one_thread, 1, law)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, all_threads, 0, law)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, five_modules, 0, law_of_five_modules)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, five_modules_verdicts, 0, law_of_five_modules, Detail::verdicts)
    ->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(first_words, five_modules, law_of_five_modules)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, ten_data_rules, 0, law_of_ten_data_rules)->Apply(sizes_and_faults);
BENCHMARK_CAPTURE(whole_check, ten_data_rules_one_thread, 1, law_of_ten_data_rules)->Apply(sizes_and_faults);

// With its working a figure takes half a thousand bytes: the largest size would fill the memory of a small
// machine.
BENCHMARK(all_figures_told)->RangeMultiplier(10)->Range(100, 10'000)->Unit(benchmark::kMillisecond);

const int rules_registered = [] {
  for (const Rule* rule : shipped_rules()) {
    const std::string id(rule->id);
    benchmark::RegisterBenchmark(("rule/" + id).c_str(),
                                 [id](benchmark::State& state) { one_rule(state, id); })
        ->RangeMultiplier(10)
        ->Range(100, 100'000)
        ->Repetitions(1)
        ->Unit(benchmark::kMillisecond);
  }
  return 0;
}();

}  // namespace
