#include "support/sketch.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>
#include <vector>

namespace raceward::test {

using namespace installation;

namespace {

std::vector<std::string> split(std::string_view text, char at) {
  std::vector<std::string> out(1);
  for (const char c : text) {
    if (c == at) {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  std::erase_if(out, [](const std::string& s) { return s.find_first_not_of(' ') == std::string::npos; });
  return out;
}

std::string join(const std::vector<std::string>& parts, std::string_view between) {
  std::string out;
  for (const std::string& part : parts) {
    if (!out.empty()) out += between;
    out += part;
  }
  return out;
}

PlaceKind kind_of(char letter) {
  switch (letter) {
    case 'P':
      return PlaceKind::panel;
    case 'L':
      return PlaceKind::conduit_body;
    case 'K':
      return PlaceKind::equipment;
    case 'J':
      return PlaceKind::joint;
    default:
      return PlaceKind::box;
  }
}

}  // namespace

Sketch::Sketch(std::string_view drawing) {
  for (const std::string& chain : split(drawing, ';')) {
    Index at = none;
    std::string by;
    for (const std::string& word : split(chain, ' ')) {
      if (word.front() == '-') {
        by = word.substr(1, word.size() - 2);
        continue;
      }
      const Index next = place(word);
      if (!by.empty()) raceway(by, at, next);
      by.clear();
      at = next;
    }
  }
}

std::string_view Sketch::keep(std::string text) { return texts_.emplace_back(std::move(text)); }

Index Sketch::place(std::string_view id) {
  YesNo accessible = YesNo::yes;
  if (id.back() == '!' || id.back() == '?') {
    accessible = id.back() == '!' ? YesNo::no : YesNo::unstated;
    id.remove_suffix(1);
  }
  if (const auto found = places_.find(id); found != places_.end()) return found->second;
  Place added;
  added.id = keep(std::string(id));
  added.kind = kind_of(id.front());
  if (added.kind == PlaceKind::box || added.kind == PlaceKind::conduit_body) added.accessible = accessible;
  const auto index = static_cast<Index>(in.model.places.size());
  in.model.places.push_back(added);
  places_.emplace(id, index);
  return index;
}

Index Sketch::raceway(std::string_view id, Index from, Index to) {
  Raceway added;
  added.id = keep(std::string(id));
  added.ends[0].place = from;
  added.ends[1].place = to;
  const auto index = static_cast<Index>(in.model.raceways.size());
  in.model.raceways.push_back(added);
  raceways_.emplace(id, index);
  return index;
}

Index Sketch::raceway(std::string_view id) const {
  const auto found = raceways_.find(id);
  if (found == raceways_.end()) throw std::out_of_range("no raceway " + std::string(id));
  return found->second;
}

Index Sketch::run(std::string_view stops) {
  Model& m = in.model;
  const auto size = [](const auto& list) { return static_cast<Index>(list.size()); };
  Run added;
  added.circuit = size(m.circuits);
  added.stops.first = size(m.stops);
  std::string text(stops);
  bool in_via = false;
  for (char& c : text) {  // blanks within brackets do not part stops
    in_via = (in_via || c == '(') && c != ')';
    if (in_via && c == ' ') c = '+';
  }
  for (const std::string& word : split(text, ' ')) {
    const std::size_t bracket = word.find('(');
    Stop stop;
    stop.place = place(std::string_view(word).substr(0, bracket));
    stop.via.first = size(m.via);
    if (bracket != std::string::npos) {
      for (const std::string& id : split(word.substr(bracket + 1, word.size() - bracket - 2), '+')) {
        m.via.push_back(raceway(id));
      }
    }
    stop.via.count = size(m.via) - stop.via.first;
    m.stops.push_back(stop);
  }
  added.stops.count = size(m.stops) - added.stops.first;
  added.conductors = {size(m.run_conductors), 1};
  Circuit circuit;
  circuit.id = keep("C" + std::to_string(m.circuits.size() + 1));
  circuit.conductors = {size(m.conductors), 1};
  circuit.runs = {size(m.runs), 1};
  Conductor conductor;
  conductor.id = "h";
  conductor.circuit = added.circuit;
  m.run_conductors.push_back(size(m.conductors));
  m.conductors.push_back(conductor);
  m.circuits.push_back(circuit);
  m.runs.push_back(added);
  return size(m.runs) - 1;
}

void Sketch::derive() {
  in.graph = build_graph(in.model);
  in.routes = derive_routes(in.model, in.graph);
  in.sections = derive_sections(in.model, in.graph);
}

std::string Sketch::hops(Index run) const {
  std::vector<std::string> out;
  const Range range = in.routes.run_hops[run];
  for (Index h = range.first; h < range.end(); ++h) {
    const Hop& hop = in.routes.hops[h];
    out.push_back(std::string(in.model.raceways[hop.raceway].id) + ":" +
                  std::string(in.model.places[hop.from].id) + ">" + std::string(in.model.places[hop.to].id) +
                  (hop.stop == none ? "" : "*"));
  }
  return join(out, " ");
}

std::string Sketch::troubles() const {
  std::vector<std::pair<Index, std::string>> by_stop;
  for (const Ambiguity& a : in.routes.ambiguities) by_stop.emplace_back(a.stop, "ambiguous");
  for (const RouteFault& f : in.routes.faults) {
    switch (f.kind) {
      case RouteFault::Kind::not_joined:
        by_stop.emplace_back(f.stop, "not joined");
        break;
      case RouteFault::Kind::too_long:
        by_stop.emplace_back(f.stop, "too long");
        break;
      case RouteFault::Kind::via_does_not_lead:
        by_stop.emplace_back(f.stop, "via " + std::string(in.model.raceways[f.via].id));
        break;
    }
  }
  std::sort(by_stop.begin(), by_stop.end());
  std::vector<std::string> out;
  for (const auto& [stop, what] : by_stop) {
    out.push_back(std::string(in.model.places[in.model.stops[stop].place].id) + " " + what);
  }
  return join(out, "; ");
}

std::string Sketch::uncertain() const {
  std::vector<std::string> out;
  for (Index r = 0; r < in.model.raceways.size(); ++r) {
    if (in.routes.block_ambiguity[in.graph.block[r]] != none) out.emplace_back(in.model.raceways[r].id);
  }
  std::sort(out.begin(), out.end());
  return join(out, " ");
}

std::string Sketch::visits(std::string_view place) const {
  const auto through = [&](Index hop) {
    return hop == none ? std::string() : std::string(in.model.raceways[in.routes.hops[hop].raceway].id);
  };
  std::vector<std::string> out;
  for (const Visit& v : in.routes.visits_at(places_.find(place)->second)) {
    if (v.arrives != (v.hop_in != none) || v.leaves != (v.hop_out != none)) return "contradiction";
    out.push_back("run" + std::to_string(v.run) + (v.stop == none ? " through " : " stop ") +
                  through(v.hop_in) + ">" + through(v.hop_out));
  }
  return join(out, "; ");
}

std::string Sketch::sections() const {
  std::vector<std::string> out;
  for (Index i = 0; i < in.sections.sections.size(); ++i) {
    const PullSection& s = in.sections.sections[i];
    const auto id = [&](Index place) { return std::string(in.model.places[place].id); };
    std::string text = id_of(in.model, in.sections, {SubjectKind::pull_section, i}) + " " + id(s.ends[0]) +
                       "-" + id(s.ends[1]);
    if (s.unsure != none) text += " unsure " + id(s.unsure);
    if (s.branches_at != none) text += " branches " + id(s.branches_at);
    for (Index r = s.raceways.first; r < s.raceways.end(); ++r) {
      if (in.sections.section_of[in.sections.raceways[r]] != i) text += " contradiction";
    }
    out.push_back(text);
  }
  std::sort(out.begin(), out.end());
  return join(out, "; ");
}

}  // namespace raceward::test
