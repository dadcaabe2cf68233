// A suite of small installations against reading and parsing the same files, in one run.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <pugixml.hpp>
#include <string>
#include <utility>
#include <vector>

#include "suite/parallel.hpp"
#include "suite/suite.hpp"
#include "support/generate.hpp"

namespace {

namespace fs = std::filesystem;
namespace suite = raceward::suite;

/// A folder of as many documents as asked for; each has no finding, or one that it expects.
class Folder {
 public:
  Folder(std::int64_t documents, bool findings)
      : path_(fs::temp_directory_path() / fmt::format("raceward-benchmark-{}-{}-{}", getpid(), documents,
                                                      findings ? "findings" : "clean")) {
    fs::create_directories(path_);
    for (std::int64_t i = 0; i < documents; ++i) {
      std::string text =
          raceward::test::generate({.raceways = raceways, .seed = static_cast<std::uint64_t>(i) + 1});
      if (findings) spoil(text);
      files_.push_back((path_ / fmt::format("{:05}.xml", i)).string());
      bytes_ += text.size();
      std::ofstream(files_.back(), std::ios::binary) << text;
    }
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }

  [[nodiscard]] std::string path() const { return path_.string(); }
  [[nodiscard]] const std::vector<std::string>& files() const { return files_; }
  [[nodiscard]] std::size_t bytes() const { return bytes_; }

 private:
  static constexpr std::uint32_t raceways = 3;

  /// The directory of the first panel is incomplete, and expected to be.
  static void spoil(std::string& text) {
    constexpr std::string_view id = "<panel id=\"", said = "directory=\"yes\"";
    const std::size_t panel = text.find(id);
    const std::size_t name = panel + id.size();
    const std::string subject = text.substr(name, text.find('"', name) - name);
    text.replace(text.find(said, panel), said.size(), "directory=\"no\"");
    text.insert(panel, fmt::format("<!-- expect: violates panel-directory {} -->", subject));
  }

  fs::path path_;
  std::vector<std::string> files_;
  std::size_t bytes_ = 0;
};

const Folder& folder(std::int64_t documents, bool findings) {
  static std::map<std::pair<std::int64_t, bool>, Folder> made;
  return made.try_emplace({documents, findings}, documents, findings).first->second;
}

void say(benchmark::State& state, const Folder& of) {
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(of.bytes()));
  state.counters["per_document"] =
      benchmark::Counter(static_cast<double>(state.range(0)),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void suite_bare_parse(benchmark::State& state, unsigned threads) {
  const Folder& of = folder(state.range(0), false);
  for (auto _ : state) {
    suite::each(of.files().size(), threads,
                [&](std::size_t i) {
                  std::ifstream in(of.files()[i], std::ios::binary);
                  std::string text(fs::file_size(of.files()[i]), '\0');
                  in.read(text.data(), static_cast<std::streamsize>(text.size()));
                  pugi::xml_document tree;
                  benchmark::DoNotOptimize(tree.load_buffer_inplace(text.data(), text.size()));
                },
                {});
  }
  say(state, of);
}

/// The suite's reader, with expectations, and loading.
void suite_load(benchmark::State& state, unsigned threads) {
  const Folder& of = folder(state.range(0), false);
  for (auto _ : state) {
    std::vector<raceward::Problem> problems;
    std::vector<suite::Document> documents = suite::documents_of({of.path()}, problems, threads);
    std::atomic<std::size_t> loaded{0};
    suite::each(documents.size(), threads,
                [&](std::size_t i) {
                  suite::Document& d = documents[i];
                  loaded += raceward::load_moved(std::move(d.text), d.file, 1).installation ? 1 : 0;
                },
                {});
    if (loaded != of.files().size()) state.SkipWithError("a document does not load");
  }
  say(state, of);
}

void suite_check(benchmark::State& state, unsigned threads, bool findings) {
  const Folder& of = folder(state.range(0), findings);
  suite::Choice choice;
  choice.threads = threads;
  for (auto _ : state) {
    std::vector<raceward::Problem> problems;
    const suite::Result result = suite::run(suite::documents_of({of.path()}, problems, threads), choice);
    if (result.cases.size() != of.files().size() || result.failed() > 0 || !result.readable())
      state.SkipWithError("the suite is not as expected");
  }
  say(state, of);
}

void sizes(benchmark::internal::Benchmark* b) {
  b->Arg(1000)->Arg(10'000)->Unit(benchmark::kMillisecond)->UseRealTime();
}

BENCHMARK_CAPTURE(suite_bare_parse, one_thread, 1)->Apply(sizes);
BENCHMARK_CAPTURE(suite_bare_parse, all_threads, 0)->Apply(sizes);
BENCHMARK_CAPTURE(suite_load, one_thread, 1)->Apply(sizes);
BENCHMARK_CAPTURE(suite_load, all_threads, 0)->Apply(sizes);
BENCHMARK_CAPTURE(suite_check, clean_one_thread, 1, false)->Apply(sizes);
BENCHMARK_CAPTURE(suite_check, clean, 0, false)->Apply(sizes);
BENCHMARK_CAPTURE(suite_check, finding_one_thread, 1, true)->Apply(sizes);
BENCHMARK_CAPTURE(suite_check, finding, 0, true)->Apply(sizes);

}  // namespace
