// Checks one installation and prints the report: planner FILE
#include <iostream>
#include <raceward/engine.hpp>

int main(int argc, char** argv) {
  if (argc != 2) return 4;
  const raceward::Loaded loaded = raceward::load_file(argv[1]);
  for (const raceward::Problem& problem : loaded.problems) std::cerr << raceward::text_of(problem) << '\n';
  const raceward::LoadedLaw ruleset = raceward::load_shipped_ruleset("nec-2023");
  for (const raceward::Problem& problem : ruleset.problems) std::cerr << raceward::text_of(problem) << '\n';
  if (!loaded.installation || !ruleset.law) return 3;
  const raceward::Report report = raceward::check(*loaded.installation, *ruleset.law, {});
  std::cout << raceward::text_report(report);
  return raceward::exit_status(report);
}
