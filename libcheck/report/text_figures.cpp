// All figures, by subject, for people.
#include <fmt/format.h>

#include <map>

#include "raceward/engine.hpp"
#include "report/page.hpp"

namespace raceward {

namespace {

using namespace report;

constexpr std::size_t indent = 2;
constexpr std::size_t label_width = 36;  // the longest name of a figure, and two

std::string value_of(const FigureLine& line) {
  if (line.known) return line.shown;
  std::map<std::string, std::size_t> lacks;  // two pieces of a raceway may read the same
  std::vector<const std::string*> order;
  for (const Need& need : line.needs) {
    const auto [at, first] =
        lacks.emplace(fmt::format("{} of {} {}", need.fact, need.element,
                                  need.why.empty() ? "is not stated" : "(" + need.why + ")"),
                      0);
    if (first) order.push_back(&at->first);
    ++at->second;
  }
  std::string out = "undetermined:";
  for (const std::string* lack : order) {
    const std::size_t times = lacks[*lack];
    out += fmt::format(" {}{}{}", *lack, times > 1 ? fmt::format(" ({} times)", times) : "",
                       lack == order.back() ? "" : ";");
  }
  return out;
}

}  // namespace

std::string text_figures(const std::string& installation, const std::vector<FigureLine>& lines,
                         std::size_t left_out) {
  Page page;
  page.line(fmt::format("Raceward {}: figures of installation {}", version(), installation));
  page.across('=');
  const FigureLine* former = nullptr;
  for (const FigureLine& line : lines) {
    if (former == nullptr || former->subject != line.subject || former->where != line.where) {
      if (former != nullptr) page.line();
      page.line(line.where);
    }
    former = &line;
    page.entry(line.figure, value_of(line), indent, label_width);
    for (const std::string& step : line.working) page.paragraph(step, 2 * indent, 4 * indent);
  }
  if (left_out != 0) {
    page.line();
    page.paragraph(
        fmt::format("{} left out that no rule compares where they would stand; --all prints them too",
                    counted(left_out, "figure", "figures")),
        0, 0);
  }
  return page.take();
}

}  // namespace raceward
