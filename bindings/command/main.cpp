// The program raceward: the engine at the command line.
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <csignal>
#include <exception>
#include <memory>

#include "memory/memory.hpp"
#include "options.hpp"
#include "output.hpp"
#include "tasks.hpp"

namespace {

using namespace raceward::command;

std::unique_ptr<spdlog::logger> make_log(const std::string& level) {
  auto log = std::make_unique<spdlog::logger>("raceward", std::make_shared<spdlog::sinks::stderr_sink_st>());
  log->set_pattern("%n: %l: %v");
  log->set_level(spdlog::level::from_str(level));
  return log;
}

Status run_all(int argc, char** argv) {
  const auto read = read_options(argc, argv);
  if (const Status* done = std::get_if<Status>(&read)) return *done;
  const Options& options = std::get<Options>(read);
  const auto log = make_log(options.log_level);
  return std::visit([&](const auto& task) { return run(task, *log); }, options.task);
}

}  // namespace

int main(int argc, char** argv) {
  raceward::memory::tune();
#ifdef SIGXFSZ
  std::signal(SIGXFSZ, SIG_IGN);  // a file that grows too large is an error to tell, not the end
#endif
  try {
    const Status status = run_all(argc, argv);
    end_with(status);
    return static_cast<int>(status);
  } catch (const std::exception& error) {
    complain(std::string("internal fault: ") + error.what());
  } catch (...) {
    complain("internal fault");
  }
  return static_cast<int>(Status::internal);
}
