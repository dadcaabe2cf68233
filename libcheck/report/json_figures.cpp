// All figures as JSON: figures-1.schema.json describes it.
#include "raceward/engine.hpp"
#include "report/json_parts.hpp"

namespace raceward {

std::string json_figures(const std::string& installation, const std::vector<FigureLine>& lines,
                         std::size_t left_out) {
  report::Json json;
  json.begin_object();
  json.field("format", std::uint64_t{1});
  json.field("raceward", version());
  json.field("installation", installation);
  json.key("figures");
  json.begin_array();
  for (const FigureLine& line : lines) {
    json.begin_object();
    json.field("subject", line.subject);
    json.field("where", line.where);
    json.field("figure", line.figure);
    json.key("value");
    if (line.known) {
      json.decimal(line.value);
    } else {
      json.null();
    }
    json.field("unit", symbol_of(line.value.unit));
    json.field("working", line.working);
    json.key("sources");
    json.cites(line.sources);
    json.key("needs");
    json.needs(line.needs);
    json.end_object();
  }
  json.end_array();
  if (left_out != 0) json.field("left_out", std::uint64_t{left_out});
  json.end_object();
  return json.take();
}

}  // namespace raceward
