// raceward suite.
#include "suite/suite.hpp"

#include <unistd.h>

#include <cstdio>
#include <raceward/engine.hpp>

#include "laws.hpp"
#include "modules.hpp"
#include "output.hpp"
#include "suite/coverage.hpp"
#include "suite/mutate.hpp"
#include "suite/record.hpp"
#include "tasks.hpp"

namespace raceward::command {

namespace {

/// A line on standard error that is written over again and again, where a person looks on.
class Progress {
 public:
  void tell(std::size_t done, std::size_t all, const std::string& what) {
    if (!terminal_ || done == told_) return;
    told_ = done;
    std::fprintf(stderr, "\r%zu of %zu %s ", done, all, what.c_str());
    std::fflush(stderr);
  }
  void clear() {
    if (told_ > 0) std::fprintf(stderr, "\r\x1b[K");
  }

 private:
  bool terminal_ = isatty(STDERR_FILENO) == 1;
  std::size_t told_ = 0;
};

std::string formatted(const suite::Result& result, Format format) {
  switch (format) {
    case Format::json:
      return suite::json_of(result);
    case Format::junit:
      return suite::junit_of(result);
    case Format::html:  // of coverage only
    case Format::text:
      break;
  }
  return suite::text_of(result);
}

Status write(const SuiteTask& options, const std::string& text) {
  return options.output.empty() ? write_standard(text) : write_file(options.output, text);
}

Status tell_coverage(std::vector<suite::Document> documents, const suite::Choice& choice,
                     std::vector<Problem> problems, const SuiteTask& options) {
  suite::Coverage coverage = suite::coverage_of(std::move(documents), choice);
  coverage.problems.insert(coverage.problems.begin(), problems.begin(), problems.end());
  const std::string text = options.format == Format::json   ? suite::json_of(coverage)
                           : options.format == Format::html ? suite::html_of(coverage)
                                                            : suite::text_of(coverage);
  const Status status = coverage.problems.empty() ? Status::complies : Status::unreadable;
  return worse(status, write(options, text));
}

/// Each file whole or as it was; what could not be written is told, and the rest goes on.
Status write(const suite::Recordings& recordings) {
  Status status = Status::complies;
  for (const suite::Recording& r : recordings.files) status = worse(status, write_file(r.file, r.text));
  return status;
}

}  // namespace

Status run(const SuiteTask& options, spdlog::logger& log) {
  Status status = Status::complies;
  const LoadedModules modules = load(options.modules);
  if (!modules.problems.empty()) status = Status::unreadable;

  std::vector<Problem> problems;
  std::vector<suite::Document> documents = suite::documents_of(options.paths, problems);
  log.debug("{} documents", documents.size());
  std::vector<std::string> inputs;
  for (const suite::Document& d : documents) inputs.insert(inputs.end(), {d.file, d.sidecar});
  const Status admitted = admit_output(options.output, inputs);
  if (admitted != Status::complies) return admitted;
  suite::Choice choice;
  choice.only = options.only;
  choice.under = options.under;
  choice.shard = options.shard;
  choice.shards = options.shards;
  choice.threads = options.threads;
  choice.extra_rules = rules_of(modules);
  if (options.coverage)
    return worse(status, tell_coverage(std::move(documents), choice, std::move(problems), options));
  Progress progress;
  if (options.mutate) {
    suite::Mutation mutation =
        suite::mutate(std::move(documents), choice,
                      [&](std::size_t done, std::size_t all) { progress.tell(done, all, "changes"); });
    progress.clear();
    mutation.problems.insert(mutation.problems.begin(), problems.begin(), problems.end());
    if (!mutation.problems.empty()) status = worse(status, Status::unreadable);
    return worse(status, write(options, options.format == Format::json ? suite::json_of(mutation)
                                                                       : suite::text_of(mutation)));
  }
  const std::vector<suite::Document> kept = options.record ? documents : std::vector<suite::Document>{};
  suite::Result result =
      suite::run(std::move(documents), choice, [&](std::size_t done, std::size_t all, std::size_t failed) {
        progress.tell(done, all, "documents, " + std::to_string(failed) + " failed");
      });
  progress.clear();
  result.problems = std::move(problems);
  if (!result.readable()) status = worse(status, Status::unreadable);

  if (options.record) {
    const suite::Recordings recordings = suite::record(kept, result, options.overwrite);
    status = worse(status, write(recordings));
    tell(result.problems);
    for (const suite::Case& c : result.cases) tell(c.problems);
    if (!recordings.left.empty()) status = worse(status, Status::violates);
    const std::string text = suite::text_of(recordings);
    return worse(status, write_standard(text.empty() ? "nothing to record: all is as expected\n" : text));
  }
  if (result.cases.empty() && result.readable()) {
    complain("no document is chosen");
    status = worse(status, Status::usage);
  }
  if (result.failed() > 0) status = worse(status, Status::violates);
  const std::string text = formatted(result, options.format);
  return worse(status, write(options, text));
}

}  // namespace raceward::command
