// What the program can do, a function a subcommand.
#pragma once

#include <spdlog/logger.h>

#include "options.hpp"

namespace raceward::command {

Status run(const CheckTask& options, spdlog::logger& log);
Status run(const FiguresTask& options, spdlog::logger& log);
Status run(const RulesTask& options, spdlog::logger& log);
Status run(const RulesetsTask& options, spdlog::logger& log);
Status run(const SuiteTask& options, spdlog::logger& log);
Status run(const NewTask& options, spdlog::logger& log);

}  // namespace raceward::command
