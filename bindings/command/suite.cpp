// raceward suite.
#include "suite/suite.hpp"

#include <unistd.h>

#include <cstdio>
#include <raceward/engine.hpp>

#include "laws.hpp"
#include "modules.hpp"
#include "output.hpp"
#include "suite/coverage.hpp"
#include "suite/laws.hpp"
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
    case Format::xml:  // not among the choices
      break;
  }
  return suite::text_of(result);
}

Status write(const SuiteTask& options, const std::string& text) { return write_file(options.output, text); }

Status tell_coverage(std::vector<suite::Document> documents, const suite::Choice& choice,
                     std::vector<Problem> problems, const SuiteTask& options) {
  Progress progress;
  suite::Coverage coverage = suite::coverage_of(
      std::move(documents), choice,
      [&, last = std::string()](std::size_t done, std::size_t all, const std::string& what) mutable {
        if (what != last) progress.clear();  // it may be shorter
        last = what;
        progress.tell(done, all, what);
      });
  progress.clear();
  coverage.problems.insert(coverage.problems.begin(), problems.begin(), problems.end());
  const std::string text = options.format == Format::json   ? suite::json_of(coverage)
                           : options.format == Format::html ? suite::html_of(coverage)
                                                            : suite::text_of(coverage);
  const Status status = coverage.problems.empty() ? Status::complies : Status::unreadable;
  return worse(status, write(options, text));
}

Status none_chosen(Status status) {
  complain("no document is chosen");
  return worse(status, Status::usage);
}

/// Never over what the suite is read from: documents, expectations, layers.
Status admit(const SuiteTask& options, const std::vector<suite::Document>& documents) {
  if (options.output.empty()) return Status::complies;
  if (options.output.ends_with(".expect")) {
    complain(options.output + ": expectations are written by --record only");
    return Status::usage;
  }
  std::vector<std::string> inputs{options.under};
  const suite::Laws laws;
  for (const suite::Document& d : documents) {
    inputs.push_back(d.file);
    for (const std::string& name : d.expected.under) inputs.push_back(laws.named(name, d.file));
  }
  return admit_output(options.output, inputs);
}

/// Each file whole or as it was; what could not be written is told, and is none of what was recorded.
Status write(suite::Recordings& recordings) {
  Status status = Status::complies;
  std::vector<suite::Recording> written;
  for (suite::Recording& r : recordings.files) {
    const Status of_this = write_file(r.file, r.text);
    status = worse(status, of_this);
    if (of_this == Status::complies) written.push_back(std::move(r));
  }
  recordings.files = std::move(written);
  return status;
}

}  // namespace

Status run(const SuiteTask& options, spdlog::logger& log) {
  Status status = Status::complies;
  const LoadedModules& modules = load(options.modules);
  if (!modules.problems.empty()) status = Status::unreadable;

  std::vector<Problem> problems;
  std::vector<suite::Document> documents = suite::documents_of(options.paths, problems, options.threads);
  log.debug("{} documents", documents.size());
  const Status admitted = admit(options, documents);
  if (admitted != Status::complies) return admitted;
  suite::Choice choice;
  choice.only = options.only;
  choice.change = options.change;
  choice.under = options.under;
  choice.shard = options.shard;
  choice.shards = options.shards;
  // Rules of modules are tried in processes of their own, which begin from one thread.
  choice.threads = modules.modules.empty() ? options.threads : 1;
  choice.extra_rules = rules_of(modules);
  documents = suite::chosen(std::move(documents), choice);
  if (documents.empty() && problems.empty() && options.shards == 1) return none_chosen(status);
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
    if (!mutation.left_out.empty()) status = worse(status, Status::violates);
    return worse(status, write(options, options.format == Format::json ? suite::json_of(mutation)
                                                                       : suite::text_of(mutation)));
  }
  const std::vector<suite::Document> kept = options.record ? documents : std::vector<suite::Document>{};
  suite::Result result =
      suite::run(std::move(documents), choice, [&](std::size_t done, std::size_t all, std::size_t failed) {
        progress.tell(done, all, "documents, " + std::to_string(failed) + " failed");
      });
  progress.clear();
  result.problems.insert(result.problems.begin(), problems.begin(), problems.end());
  result.problems.insert(result.problems.end(), modules.problems.begin(), modules.problems.end());
  if (!result.readable()) status = worse(status, Status::unreadable);

  if (options.record) {
    suite::Recordings recordings = suite::record(kept, result, options.overwrite);
    const bool nothing = recordings.files.empty() && recordings.left.empty() && result.readable();
    status = worse(status, write(recordings));
    tell(result.problems);
    for (const suite::Case& c : result.cases) tell(c.problems);
    if (!recordings.left.empty()) status = worse(status, Status::violates);
    return worse(status, write_standard(nothing ? "nothing to record: all is as expected\n"
                                                : suite::text_of(recordings)));
  }
  if (result.failed() > 0) status = worse(status, Status::violates);
  const std::string text = formatted(result, options.format);
  return worse(status, write(options, text));
}

}  // namespace raceward::command
