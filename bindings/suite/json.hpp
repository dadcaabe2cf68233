// JSON as suites and the command write it, whatever bytes names of files hold.
#pragma once

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <raceward/engine.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace raceward::suite {

/// "?" in place of what is no UTF-8, or nothing that XML can hold.
std::string printable(std::string_view text);

/// A line each: "file:line:column: message".
std::vector<std::string> lines_of(const std::vector<Problem>& problems);

/// Indented, keys in the order of the calls, texts made printable.
class Json {
 public:
  Json() { writer_.SetIndent(' ', 2); }

  /// Within an object they have a key, within an array none.
  void begin_object(const char* key = nullptr) { named(key), writer_.StartObject(); }
  void end_object() { writer_.EndObject(); }
  void begin_array(const char* key = nullptr) { named(key), writer_.StartArray(); }
  void end_array() { writer_.EndArray(); }

  void text(const char* key, std::string_view value) { named(key), text(value); }
  void texts(const char* key, const std::vector<std::string>& values) {
    begin_array(key);
    for (const std::string& value : values) text(value);
    end_array();
  }
  void number(const char* key, std::size_t value) { named(key), writer_.Uint64(value); }
  void truth(const char* key, bool value) { named(key), writer_.Bool(value); }
  void nothing(const char* key) { named(key), writer_.Null(); }

  /// The document with a line break at its end.
  [[nodiscard]] std::string take() const {
    return std::string(buffer_.GetString(), buffer_.GetSize()) + "\n";
  }

 private:
  void named(const char* key) {
    if (key != nullptr) writer_.Key(key);
  }
  void text(std::string_view raw) {
    const std::string value = printable(raw);
    writer_.String(value.data(), static_cast<rapidjson::SizeType>(value.size()));
  }

  rapidjson::StringBuffer buffer_;
  rapidjson::PrettyWriter<rapidjson::StringBuffer> writer_{buffer_};
};

}  // namespace raceward::suite
