#include "facts/start_tag.hpp"

#include <charconv>

namespace raceward::facts {
namespace {

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
constexpr bool ends_name(char c) { return c == '=' || c == '/' || c == '>' || is_blank(c); }

void append_utf8(std::string& out, std::uint32_t c) {
  const auto put = [&](std::uint32_t byte) { out += static_cast<char>(byte); };
  const auto tail = [&](unsigned shift) { put(0x80U | (c >> shift & 0x3fU)); };
  if (c < 0x80) return put(c);
  if (c < 0x800) {
    put(0xc0U | c >> 6);
  } else if (c < 0x10000) {
    put(0xe0U | c >> 12);
    tail(6);
  } else {
    put(0xf0U | c >> 18);
    tail(12);
    tail(6);
  }
  tail(0);
}

/// A reference without its & and ;.
void append_referred(std::string& out, std::string_view name) {
  if (name == "lt") {
    out += '<';
  } else if (name == "gt") {
    out += '>';
  } else if (name == "amp") {
    out += '&';
  } else if (name == "quot") {
    out += '"';
  } else if (name == "apos") {
    out += '\'';
  } else if (name.starts_with('#')) {
    const bool hex = name.starts_with("#x");
    std::uint32_t c = 0;
    std::from_chars(name.data() + (hex ? 2 : 1), name.data() + name.size(), c, hex ? 16 : 10);
    append_utf8(out, c);
  }
}

}  // namespace

StartTag::StartTag(const installation::Model& model, installation::Offset element)
    : bytes_(model.bytes), at_(element) {
  while (at_ < bytes_.size() && !ends_name(bytes_[at_])) ++at_;
}

bool StartTag::next() {
  while (at_ < bytes_.size() && is_blank(bytes_[at_])) ++at_;
  const std::size_t from = at_;
  while (at_ < bytes_.size() && !ends_name(bytes_[at_])) ++at_;
  if (at_ == from) return false;
  name_ = bytes_.substr(from, at_ - from);
  while (at_ < bytes_.size() && (is_blank(bytes_[at_]) || bytes_[at_] == '=')) ++at_;
  if (at_ >= bytes_.size()) return false;
  const std::size_t end = bytes_.find(bytes_[at_], at_ + 1);
  if (end == std::string_view::npos) return false;
  raw_ = bytes_.substr(at_ + 1, end - at_ - 1);
  at_ = end + 1;
  return true;
}

std::string_view StartTag::value() {
  if (raw_.find_first_of("&\t\r\n") == std::string_view::npos) return raw_;
  decoded_.clear();
  for (std::size_t i = 0; i < raw_.size(); ++i) {
    if (raw_[i] == '&') {
      const std::size_t end = raw_.find(';', i);
      append_referred(decoded_, raw_.substr(i + 1, end - i - 1));
      i = end;
    } else if (raw_[i] == '\r' && i + 1 < raw_.size() && raw_[i + 1] == '\n') {
      continue;
    } else {
      decoded_ += is_blank(raw_[i]) ? ' ' : raw_[i];
    }
  }
  return decoded_;
}

void append_escaped(std::string& out, std::string_view text) {
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\t':
      case '\n':
      case '\r':
        out += "&#" + std::to_string(static_cast<int>(c)) + ";";
        break;
      default:
        out += c;
    }
  }
}

}  // namespace raceward::facts
