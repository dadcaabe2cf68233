// Pieces that both JSON documents share.
#pragma once

#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "raceward/finding.hpp"

namespace raceward::report {

/// Writes compact JSON, keys in the order of the calls. Numbers that are quantities are exact decimals, never
/// binary floating point; texts are made valid UTF-8.
class Json {
 public:
  void begin_object() { writer_.StartObject(); }
  void end_object() { writer_.EndObject(); }
  void begin_array() { writer_.StartArray(); }
  void end_array() { writer_.EndArray(); }
  void key(std::string_view name);
  void text(std::string_view value);
  void count(std::uint64_t value) { writer_.Uint64(value); }
  void null() { writer_.Null(); }
  void decimal(const Amount& amount);

  void field(std::string_view name, std::string_view value);
  void field(std::string_view name, const std::vector<std::string>& values);
  void field(std::string_view name, std::uint64_t value);

  /// {"value": 31.5, "unit": "%"}
  void amount(const Amount& amount);
  void place(const Place& place);
  void cites(std::span<const Citation> citations);
  void needs(const std::vector<Need>& needs);

  /// The document with a line break at its end, or what is left of it.
  [[nodiscard]] std::string take() const;
  /// Gives up what is written so far where that is much.
  template <class Out>
  void pass_on(const Out& out) {
    constexpr std::size_t much = std::size_t{1} << 20;  // not law: bytes
    if (buffer_.GetSize() < much) return;
    out(std::string_view(buffer_.GetString(), buffer_.GetSize()));
    buffer_.Clear();
  }

 private:
  rapidjson::StringBuffer buffer_;
  rapidjson::Writer<rapidjson::StringBuffer> writer_{buffer_};
};

}  // namespace raceward::report
