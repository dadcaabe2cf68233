// Differences of two rulesets for people and for programs.
#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>

#include "differences.hpp"
#include "suite/json.hpp"
#include "wrap.hpp"

namespace raceward::command {

namespace {

std::string or_nothing(const std::string& value) { return value.empty() ? "nothing" : value; }

void law(suite::Json& json, const char* key, const Law& law) {
  json.begin_object(key);
  json.text("id", law.id);
  json.texts("layers", law.layers);
  json.end_object();
}

}  // namespace

std::string text_of_differences(const Law& from, const Law& to, const std::vector<Difference>& all,
                                const std::vector<Witness>& witnesses, std::size_t documents) {
  const auto moved = std::count_if(all.begin(), all.end(), [](const Difference& d) { return d.cites_only; });
  const auto changed = static_cast<std::ptrdiff_t>(all.size()) - moved;
  std::string out = fmt::format("{} to {}: {}", from.id, to.id,
                                changed == 0 ? "nothing changes" : fmt::format("{} changes", changed));
  if (moved > 0) out += fmt::format(", {} that only stand elsewhere", moved);
  out += '\n';
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Difference& d = all[i];
    out += "\n" + wrapped(d.what, 2, "");
    out += wrapped(or_nothing(d.from), 12, "  from");
    out += wrapped(or_nothing(d.to), 12, "  to");
    if (!d.authority.empty()) out += wrapped(d.authority, 12, "  stands in");
    if (!d.layer.empty()) out += wrapped("layer " + d.layer, 12, "  set by");
    const Witness& w = witnesses[i];
    if (w.file.empty()) {
      out += documents == 0
                 ? std::string("  no witness was looked for: name documents with --among\n")
                 : fmt::format("  no witness found among {} documents and variations of them\n", documents);
      continue;
    }
    out += wrapped(w.variation.empty() ? w.file : w.file + ", with " + w.variation, 12, "  witness");
    const auto only = [&](const Law& under, const std::vector<std::string>& findings) {
      if (!findings.empty()) out += wrapped("under " + under.id + " only", 14);
      for (const std::string& finding : findings) out += wrapped(finding, 16);
    };
    only(from, w.only_from);
    only(to, w.only_to);
  }
  return out;
}

std::string json_of_differences(const Law& from, const Law& to, const std::vector<Difference>& all,
                                const std::vector<Witness>& witnesses, std::size_t documents) {
  suite::Json json;
  json.begin_object();
  json.number("format", 1);
  json.text("raceward", version());
  law(json, "from", from);
  law(json, "to", to);
  json.number("documents", documents);
  json.begin_array("changes");
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Difference& d = all[i];
    json.begin_object();
    json.text("what", d.what);
    json.text("from", d.from);
    json.text("to", d.to);
    json.text("authority", d.authority);
    json.text("layer", d.layer);
    const Witness& w = witnesses[i];
    if (w.file.empty()) {
      json.nothing("witness");
    } else {
      json.begin_object("witness");
      json.text("file", w.file);
      json.text("variation", w.variation);
      json.texts("only_from", w.only_from);
      json.texts("only_to", w.only_to);
      json.end_object();
    }
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace raceward::command
