// Differences of two rulesets for people and for programs.
#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>
#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include "differences.hpp"
#include "wrap.hpp"

namespace raceward::command {

namespace {

std::string or_nothing(const std::string& value) { return value.empty() ? "nothing" : value; }

using Writer = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

void member(Writer& w, const char* key, const std::string& value) {
  w.Key(key);
  w.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
}

void member(Writer& w, const char* key, const std::vector<std::string>& values) {
  w.Key(key);
  w.StartArray();
  for (const std::string& value : values)
    w.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
  w.EndArray();
}

void law(Writer& w, const char* key, const Law& law) {
  w.Key(key);
  w.StartObject();
  member(w, "id", law.id);
  member(w, "layers", law.layers);
  w.EndObject();
}

}  // namespace

std::string text_of_differences(const Law& from, const Law& to, const std::vector<Difference>& all,
                                const std::vector<Witness>& witnesses, std::size_t documents) {
  std::string out = fmt::format("{} to {}: {}\n", from.id, to.id,
                                all.empty() ? "nothing changes" : fmt::format("{} changes", all.size()));
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
                 ? std::string("  no witness was looked for: name documents\n")
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
  rapidjson::StringBuffer buffer;
  Writer w(buffer);
  w.SetIndent(' ', 2);
  w.StartObject();
  w.Key("format");
  w.Int(1);
  member(w, "raceward", std::string(version()));
  law(w, "from", from);
  law(w, "to", to);
  w.Key("documents");
  w.Uint64(documents);
  w.Key("changes");
  w.StartArray();
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Difference& d = all[i];
    w.StartObject();
    member(w, "what", d.what);
    member(w, "from", d.from);
    member(w, "to", d.to);
    member(w, "authority", d.authority);
    member(w, "layer", d.layer);
    w.Key("witness");
    if (witnesses[i].file.empty()) {
      w.Null();
    } else {
      w.StartObject();
      member(w, "file", witnesses[i].file);
      member(w, "variation", witnesses[i].variation);
      member(w, "only_from", witnesses[i].only_from);
      member(w, "only_to", witnesses[i].only_to);
      w.EndObject();
    }
    w.EndObject();
  }
  w.EndArray();
  w.EndObject();
  return std::string(buffer.GetString(), buffer.GetSize()) + "\n";
}

}  // namespace raceward::command
