#include "document/declaration.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "document/characters.hpp"
#include "quantity/fault.hpp"

namespace raceward::document {
namespace {

constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_letters(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

void skip_blanks(std::string_view& text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
}

struct Setting {
  std::string_view name, value;
};

// Takes ` name = "value"` off the front; false where the text begins otherwise.
bool take_setting(std::string_view& text, Setting& out) {
  if (text.empty() || !is_blank(text.front())) return false;
  skip_blanks(text);
  std::size_t n = 0;
  while (n < text.size() && is_letter(text[n])) ++n;
  out.name = text.substr(0, n);
  text.remove_prefix(n);
  skip_blanks(text);
  if (text.empty() || text.front() != '=') return false;
  text.remove_prefix(1);
  skip_blanks(text);
  if (text.empty() || (text.front() != '"' && text.front() != '\'')) return false;
  const std::size_t close = text.find(text.front(), 1);
  if (close == std::string_view::npos) return false;
  out.value = text.substr(1, close - 1);
  text.remove_prefix(close + 1);
  return true;
}

std::string fault_of_setting(const Setting& setting) {
  if (setting.name == "version" && setting.value != "1.0")
    return fmt::format("XML version {} is not read; write version=\"1.0\"", quantity::quoted(setting.value));
  if (setting.name == "encoding" && !same_letters(setting.value, "utf-8") &&
      !same_letters(setting.value, "us-ascii"))
    return fmt::format("encoding {} is not read; save the file as UTF-8 and say so",
                       quantity::quoted(setting.value));
  if (setting.name == "standalone" && setting.value != "yes" && setting.value != "no")
    return "standalone is yes or no";
  return {};
}

}  // namespace

std::string fault_of_encoding(std::string_view bytes) {
  const auto begins = [&](std::string_view with) { return bytes.starts_with(with); };
  using namespace std::string_view_literals;
  if (begins("\xff\xfe"sv) || begins("\xfe\xff"sv) || begins("<\0"sv) || begins("\0<"sv) ||
      begins("\0\0\xfe\xff"sv) || begins("\0\0\0<"sv))
    return "the file is in UTF-16 or UTF-32; save it as UTF-8";
  if (begins("\x4c\x6f\xa7\x94"sv)) return "the file is in EBCDIC; save it as UTF-8";
  if (begins("\xef\xbb\xbf"sv)) bytes.remove_prefix(3);
  if (std::all_of(bytes.begin(), bytes.end(), is_blank))
    return "the file is empty; a document is one <installation>";
  return {};
}

bool is_xml(std::string_view target) { return same_letters(target, "xml"); }

std::string fault_of_declaration(std::string_view declaration) {
  if (!declaration.starts_with("<?xml")) return "an XML declaration is written <?xml, in small letters";
  declaration.remove_prefix(5);
  constexpr std::string_view order[] = {"version", "encoding", "standalone"};
  std::size_t next = 0;
  for (;;) {
    std::string_view rest = declaration;
    skip_blanks(rest);
    if (rest.empty()) break;
    Setting setting;
    const bool taken = take_setting(declaration, setting);
    const auto* found = std::find(std::begin(order) + next, std::end(order), setting.name);
    if (!taken || found == std::end(order) || (next == 0 && found != std::begin(order)))
      return R"(an XML declaration is written <?xml version="1.0" encoding="UTF-8"?>)";
    next = static_cast<std::size_t>(found - std::begin(order)) + 1;
    if (auto wrong = fault_of_setting(setting); !wrong.empty()) return wrong;
  }
  return next == 0 ? R"(an XML declaration is written <?xml version="1.0" encoding="UTF-8"?>)"
                   : std::string{};
}

}  // namespace raceward::document
