// raceward check and raceward figures.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <future>
#include <string>
#include <utility>

#include "against.hpp"
#include "laws.hpp"
#include "modules.hpp"
#include "output.hpp"
#include "tasks.hpp"

namespace raceward::command {

namespace {

Log sink_for(spdlog::logger& log) {
  return [&log](int level, std::string_view line) {
    constexpr spdlog::level::level_enum levels[] = {spdlog::level::debug, spdlog::level::info,
                                                    spdlog::level::warn, spdlog::level::err};
    log.log(levels[level < 0 ? 0 : level > 3 ? 3 : level], line);
  };
}

/// Waivers expire by themselves, so the day must come from a clock where nobody says it. Of the whole program
/// only this reads one, and only waivers see it.
std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  if (gmtime_r(&now, &utc) == nullptr) return {};
  return fmt::format("{:04}-{:02}-{:02}", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday);
}

struct Input {
  InstallationPtr installation;
  const Law* law = nullptr;
  explicit operator bool() const { return law != nullptr; }
};

/// The installation and its law, or what stands in the way told on standard error.
Input judged(Loaded loaded, const std::string& file, const std::string& under, Laws& laws) {
  if (!loaded.installation) {
    tell(loaded.problems);
    return {};
  }
  const Law* law = under.empty() ? laws.adopted(*loaded.installation, file) : laws.named(under);
  return {std::move(loaded.installation), law};
}

/// The files of a task, read one after another. The first one is read while its ruleset is.
class Files {
 public:
  Files(std::string first, spdlog::logger& log) : first_(std::move(first)), log_(log) {
    ahead_ = std::async([this] { return load_file(first_); });
  }
  Input read(const std::string& file, const std::string& under, Laws& laws) {
    log_.debug("reading {}", file);
    return judged(ahead_.valid() ? ahead_.get() : load_file(file), file, under, laws);
  }

 private:
  std::string first_;
  spdlog::logger& log_;
  std::future<Loaded> ahead_;
};

/// Parameters of layers that neither figures nor rules of the law read, nor rules of modules that are at
/// hand.
void tell_unread(const std::vector<Remark>& remarks, const std::vector<const Rule*>& extra,
                 std::vector<NotChecked>& out) {
  for (const Remark& remark : remarks) {
    const bool read = std::any_of(extra.begin(), extra.end(), [&](const Rule* rule) {
      return std::find(rule->parameters.begin(), rule->parameters.end(), remark.parameter) !=
             rule->parameters.end();
    });
    if (!remark.parameter.empty() && !read)
      out.push_back({"parameter " + remark.parameter, "nothing of the ruleset or of modules reads it"});
  }
}

/// The report as JSON with the comparison in a key "against". The last piece ends the one object.
void write_with(const Report& report, const std::string& comparison, Output& out) {
  std::string last;
  json_report(report, [&](std::string_view piece) {
    out.write(last);
    last = piece;
  });
  last.insert(last.rfind('}'), ",\"against\":" + comparison);
  out.write(last);
}

}  // namespace

Status run(const CheckTask& options, spdlog::logger& log) {
  std::vector<std::string> inputs = options.files;
  if (!options.against.empty()) inputs.push_back(options.against);
  Status status = admit_output(options.output, inputs);
  if (status != Status::complies) return status;
  Files files(options.files.front(), log);
  Laws laws;
  if (!options.under.empty() && laws.named(options.under) == nullptr) return Status::unreadable;

  Former former;
  if (!options.against.empty()) {
    former = read_former(options.against);
    tell(former.problems);
    if (!former.problems.empty()) return Status::unreadable;
  }

  const LoadedModules& modules = load(options.modules);
  // The check goes on without what could not be loaded, and the report says so; but it is not what was asked
  // for.
  if (!modules.problems.empty()) status = Status::unreadable;
  raceward::CheckOptions how;
  how.log = sink_for(log);
  how.extra_rules = rules_of(modules);
  how.trial = usual_trial;
  how.on = options.on.empty() ? today() : options.on;
  const bool told = !options.quiet || !options.output.empty();
  how.detail = told ? raceward::Detail::all : raceward::Detail::counts;
  bool all_read = true;
  bool first = true;
  Output out(options.output);
  for (const std::string& file : options.files) {
    const Input input = files.read(file, options.under, laws);
    if (!input) {
      all_read = false;
      status = worse(status, Status::unreadable);
      continue;
    }
    Report report = check(*input.installation, *input.law, how);
    if (told) tell_unread(laws.remarks(options.under), how.extra_rules, report.not_checked);
    for (const Problem& problem : modules.problems) {
      report.not_checked.push_back({"module " + problem.place.file, problem.message});
    }
    status = worse(status, static_cast<Status>(exit_status(report, options.accept_undetermined)));
    if (!told) continue;
    const bool text = options.format == Format::text;
    if (text && !first) out.write("\n\n");
    first = false;
    if (!options.against.empty()) {
      const Compared compared = compare(report, former);
      if (text) {
        out.write(text_of(compared, report, former));
      } else {
        write_with(report, json_of(compared, former), out);
      }
    } else if (text) {
      out.write(text_report(report));
    } else {
      json_report(report, [&](std::string_view piece) { out.write(piece); });
    }
  }
  if (!told) return status;
  if (!all_read && !options.output.empty()) {
    complain(options.output + ": not written, because not every input could be read");
    return status;
  }
  return worse(status, out.finish());
}

Status run(const FiguresTask& options, spdlog::logger& log) {
  const Status status = admit_output(options.output, {options.file});
  if (status != Status::complies) return status;
  Files files(options.file, log);
  Laws laws;
  if (!options.under.empty() && laws.named(options.under) == nullptr) return Status::unreadable;
  const Input input = files.read(options.file, options.under, laws);
  if (!input) return Status::unreadable;
  const auto text_of = [&] {
    if (options.format == Format::xml) return figures_document(*input.installation, *input.law);
    const FigureList all = options.all ? FigureList{figures(*input.installation, *input.law), 0}
                                       : figures_of_use(*input.installation, *input.law);
    const std::string id(installation_id(*input.installation));
    return options.format == Format::json ? json_figures(id, all.lines, all.left_out)
                                          : text_figures(id, all.lines, all.left_out);
  };
  const std::string text = text_of();
  return write_file(options.output, text);
}

}  // namespace raceward::command
