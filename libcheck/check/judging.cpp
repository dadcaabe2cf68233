#include "check/judging.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "check/needs.hpp"
#include "check/wording.hpp"

namespace raceward::checking {

Reading Judging::refuse(std::string fault) const {
  if (fault_.empty()) fault_ = std::move(fault);
  Reading reading;
  reading.missing = e_.missing.add({subject_, 0, bound_.rule->id, {}, "the author of the rule", fault_});
  return reading;
}

Reading Judging::figure(std::uint32_t position) const {
  if (position >= bound_.figures.size()) {
    return refuse(fmt::format("it asks for figure {} of its list of {}", position, bound_.figures.size()));
  }
  const ReadFigure& read = bound_.figures[position];
  if (!read.always && !speaks_of(figure::info(read.id), subject_.kind)) {
    return refuse(
        fmt::format("it asks for figure {} of a {}", figure::info(read.id).name, name_of(subject_.kind)));
  }
  const figure::Value value =
      working_ == nullptr ? e_.get(read.id, subject_) : e_.explain(read.id, subject_, *working_);
  if (working_ != nullptr) read_.push_back({read.id, value.count, value.missing});
  const bool elsewhere = value.place != Subject{};
  return {{value.count, read.unit}, value.missing, value.cite, elsewhere ? value.place : subject_};
}

void Judging::tell_figures(std::vector<std::string>& lines) const {
  for (auto at = read_.begin(); at != read_.end(); ++at) {
    if (std::any_of(read_.begin(), at, [&](const Read& other) { return other.figure == at->figure; }))
      continue;
    const figure::Info& info = figure::info(at->figure);
    if (at->missing == 0) {
      lines.push_back(
          fmt::format("{}: {}", info.name, shown({at->count, figure::told_in(e_.law, info.unit)})));
      continue;
    }
    std::string wants;
    for (const Need& need : needs_of(e_, at->missing))
      wants += fmt::format("{}{} of {}", wants.empty() ? "" : ", ", need.fact, need.element);
    lines.push_back(fmt::format("{}: not known without {}", info.name, wants));
  }
}

Reading Judging::parameter(std::uint32_t position) const {
  if (position >= bound_.parameters.size()) {
    return refuse(
        fmt::format("it asks for parameter {} of its list of {}", position, bound_.parameters.size()));
  }
  const Parameter& p = *bound_.parameters[position];
  if (working_ != nullptr) working_->lines.push_back(fmt::format("{}: {}", p.name, text_of(p.value)));
  return {p.value, 0, p.cite, subject_};
}

MissingId Judging::both(MissingId a, MissingId b) const {
  if (a >= e_.missing.size() || b >= e_.missing.size()) {
    return refuse("it names missing facts that there are not").missing;
  }
  return e_.missing.both(a, b);
}

}  // namespace raceward::checking
