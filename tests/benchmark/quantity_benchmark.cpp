// Time to read and to write one quantity.
#include <benchmark/benchmark.h>

#include <string_view>

#include "raceward/quantity.hpp"

namespace {

using raceward::Dimension;

void parse(benchmark::State& state, std::string_view text, Dimension wanted) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(text);
    auto parsed = raceward::parse_amount(text, wanted);
    benchmark::DoNotOptimize(parsed);
    if (!parsed) state.SkipWithError("the text was not read");
  }
}
BENCHMARK_CAPTURE(parse, inches, "36in", Dimension::length);
BENCHMARK_CAPTURE(parse, spaced_inches, "36 in", Dimension::length);
BENCHMARK_CAPTURE(parse, decimal_inches, "12.125in", Dimension::length);
BENCHMARK_CAPTURE(parse, mixed_inches, "3 1/2in", Dimension::length);
BENCHMARK_CAPTURE(parse, feet_and_inches, "12ft 6in", Dimension::length);
BENCHMARK_CAPTURE(parse, millimetres, "914.4mm", Dimension::length);
BENCHMARK_CAPTURE(parse, long_metres, "9000.123456789012m", Dimension::length);
BENCHMARK_CAPTURE(parse, amperes, "20A", Dimension::current);
BENCHMARK_CAPTURE(parse, kilowatts, "4.5kW", Dimension::power);
BENCHMARK_CAPTURE(parse, fahrenheit, "86F", Dimension::temperature);
BENCHMARK_CAPTURE(parse, percent, "40%", Dimension::none);

void parse_typed_length(benchmark::State& state) {
  std::string_view text = "36in";
  for (auto _ : state) {
    benchmark::DoNotOptimize(text);
    auto parsed = raceward::parse_length(text);
    benchmark::DoNotOptimize(parsed);
    if (!parsed) state.SkipWithError("the text was not read");
  }
}
BENCHMARK(parse_typed_length);

void parse_misspelt(benchmark::State& state) {
  std::string_view text = "36 inn";
  for (auto _ : state) {
    benchmark::DoNotOptimize(text);
    auto parsed = raceward::parse_length(text);
    benchmark::DoNotOptimize(parsed);
    if (parsed) state.SkipWithError("the text was read");
  }
}
BENCHMARK(parse_misspelt);

void print(benchmark::State& state, raceward::Amount amount) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(amount);
    auto text = raceward::text_of(amount);
    benchmark::DoNotOptimize(text);
  }
}
BENCHMARK_CAPTURE(print, inches, show(raceward::inches(36), raceward::Unit::inch));
BENCHMARK_CAPTURE(print, long_feet, show(raceward::Length::steps(101'600'000'001), raceward::Unit::foot));

void box_volume(benchmark::State& state) {
  auto side = raceward::inches(4);
  for (auto _ : state) {
    benchmark::DoNotOptimize(side);
    auto volume = raceward::box_volume(side, side, side);
    benchmark::DoNotOptimize(volume);
  }
}
BENCHMARK(box_volume);

}  // namespace
