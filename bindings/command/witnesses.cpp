#include "witnesses.hpp"

#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <iterator>
#include <set>

namespace raceward::command {

namespace {

using std::string;

/// Variations of one change that are tried, and of all changes of one parameter or table.
constexpr std::size_t most_tries = 2000;

/// Laws live as long as who looks for witnesses.
std::shared_ptr<const ReadyLaw> ready(const Law& law) {
  return make_ready(std::shared_ptr<const Law>(std::shared_ptr<const Law>(), &law));
}
std::shared_ptr<const ReadyLaw> ready(Law&& law) {
  return make_ready(std::make_shared<const Law>(std::move(law)));
}

std::vector<string> findings_of(const Installation& installation, const ReadyLaw& law, bool cited = false) {
  CheckOptions options;
  options.threads = 1;
  options.detail = cited ? Detail::all : Detail::verdicts;
  std::vector<string> out;
  for (const Finding& f : check(installation, law, options).findings) {
    const char* kind = f.kind == Finding::Kind::undetermined ? "undetermined"
                       : f.kind == Finding::Kind::advised    ? "advised"
                                                             : "violates";
    string& line = out.emplace_back(fmt::format("{} {} {}", kind, f.rule, f.subject));
    if (!cited) continue;
    std::vector<string> all;
    for (const Citation& c : f.cites) all.push_back(c.document + " " + c.section);
    line += fmt::format(" ({})", fmt::join(all, ", "));
  }
  std::sort(out.begin(), out.end());
  return out;
}

/// What stands between two limits that differ, or at one of them, in the unit of the first.
std::vector<string> between(const std::vector<Amount>& amounts, Dimension dimension) {
  std::vector<string> out;
  for (std::size_t i = 0; i < amounts.size(); ++i) {
    if (dimension_of(amounts[i].unit) != dimension) continue;
    out.push_back(raceward::text_of(amounts[i]));
    for (std::size_t j = 0; j < i; ++j) {
      if (dimension_of(amounts[j].unit) != dimension || amounts[j].count == amounts[i].count) continue;
      out.push_back(raceward::text_of(
          Amount{amounts[j].count + (amounts[i].count - amounts[j].count) / 2, amounts[j].unit}));
    }
  }
  return out;
}

constexpr const char* date_of_permit = "permit-date";

void dates_in(const Condition& c, std::set<string>& out) {
  for (const Condition& part : c.parts) dates_in(part, out);
  if (c.kind != Condition::Kind::attribute || c.name != date_of_permit) return;
  out.insert(c.low.date);
  out.insert(c.high.date);
}

string day_before(const string& date) {
  using namespace std::chrono;
  const auto number = [&](std::size_t at, std::size_t digits) { return std::stoi(date.substr(at, digits)); };
  const year_month_day day{year(number(0, 4)), month(static_cast<unsigned>(number(5, 2))),
                           std::chrono::day(static_cast<unsigned>(number(8, 2)))};
  const year_month_day before{sys_days(day) - days(1)};
  return fmt::format("{:04}-{:02}-{:02}", int(before.year()), unsigned(before.month()),
                     unsigned(before.day()));
}

}  // namespace

Witnesses::Witnesses(const Law& from, const Law& to, const std::vector<string>& files)
    : from_(ready(from)), to_(ready(to)) {
  std::set<string> dates;
  for (const Law* law : {&from, &to}) {
    for (const Scope& scope : law->scopes) dates_in(scope.when, dates);
  }
  dates.erase("");
  for (const string& date : dates) {
    dates_.push_back(date);
    dates_.push_back(day_before(date));
  }
  for (const string& file : files) {
    std::ifstream in(file, std::ios::binary);
    Document d;
    d.file = file;
    d.bytes.assign(std::istreambuf_iterator<char>(in), {});
    d.installation = load_bytes(d.bytes, file, 1).installation;
    if (!d.installation) continue;
    see_words_of(d.bytes);
    d.from = findings_of(*d.installation, *from_);
    d.to = findings_of(*d.installation, *to_);
    documents_.push_back(std::move(d));
  }
  for (const Document& d : documents_) all_.push_back(&d);
}

/// Values that are words, by attribute: a few of each.
void Witnesses::see_words_of(const string& bytes) {
  constexpr std::size_t most_words = 8;
  for (std::size_t at = bytes.find("=\""); at != string::npos; at = bytes.find("=\"", at + 2)) {
    const std::size_t end = bytes.find('"', at + 2), name = bytes.find_last_of(" \t\r\n", at);
    if (end == string::npos || name == string::npos) return;
    std::set<string>& words = seen_[bytes.substr(name + 1, at - name - 1)];
    if (words.size() < most_words) words.insert(bytes.substr(at + 2, end - at - 2));
  }
}

/// A change in a table is shown only by documents that are judged otherwise without the table, or with that
/// of the second law. Of two countries nearly all documents are of no concern to nearly all changes.
const std::vector<const Witnesses::Document*>& Witnesses::concerned(const Difference& difference) {
  if (!difference.first_without || documents_.empty()) return all_;
  const auto [at, is_new] = concerned_.try_emplace(difference.name);
  if (is_new) {
    const Ready others[] = {ready(difference.first_without()), ready(difference.first_with_all())};
    Ready without;
    if (difference.second_without_any) without = ready(difference.second_without_any());
    for (const Document& d : documents_) {
      if (std::any_of(std::begin(others), std::end(others),
                      [&](const Ready& law) { return findings_of(*d.installation, *law) != d.from; }) ||
          (without && findings_of(*d.installation, *without) != d.to))
        at->second.push_back(&d);
    }
  }
  return at->second;
}

bool Witnesses::differ(const Document& d, const Alone& alone, bool cited, Witness& out) const {
  const Findings &from = cited ? d.from_cited : d.from, &to = cited ? d.to_cited : d.to;
  if (from == to) return false;
  const bool by_with = alone.with && findings_of(*d.installation, *alone.with, cited) != from;
  if (!by_with && (!alone.without || findings_of(*d.installation, *alone.without, cited) == to)) return false;
  std::set_difference(from.begin(), from.end(), to.begin(), to.end(), std::back_inserter(out.only_from));
  std::set_difference(to.begin(), to.end(), from.begin(), from.end(), std::back_inserter(out.only_to));
  return true;
}

bool Witnesses::find(const Difference& difference, Witness& out) {
  if (!difference.first_with && !difference.second_without) return false;
  const std::vector<const Document*>& documents = concerned(difference);
  if (documents.empty()) return false;
  Alone alone;
  if (difference.first_with) alone.with = ready(difference.first_with());
  if (difference.second_without) alone.without = ready(difference.second_without());
  for (const Document* each : documents) {
    out = {each->file, {}, {}, {}};
    if (difference.cites_only) {
      if (each->from.empty()) continue;
      Document& d = documents_[static_cast<std::size_t>(each - documents_.data())];
      if (d.from_cited.empty()) {
        d.from_cited = findings_of(*d.installation, *from_, true);
        d.to_cited = findings_of(*d.installation, *to_, true);
      }
    }
    if (differ(*each, alone, difference.cites_only, out)) return true;
  }
  if (difference.cites_only) return false;  // nothing in a document is nearer to a citation than the rest
  std::size_t own = most_tries;
  std::size_t& left =
      difference.name.empty() ? own : tries_left_.try_emplace(difference.name, most_tries).first->second;
  tries_ = left;
  bool found = false;
  for (const Document* d : documents) found = found || vary_date(*d, alone, out);
  for (const Document* d : documents) found = found || vary_words(*d, difference, alone, out);
  for (const Document* d : documents) found = found || vary(*d, difference, alone, out);
  left = tries_;
  return found;
}

/// Loads and judges what is varied; the change alone first, for it mostly changes nothing.
bool Witnesses::attempt(const Document& document, const Alone& alone, const Variation& variation,
                        Witness& out) {
  if (tries_ == 0) return false;
  --tries_;
  const Loaded loaded = load_bytes(variation.bytes, document.file, 1);
  if (!loaded.installation) return false;
  const Findings from = findings_of(*loaded.installation, *from_);
  const bool by_with = alone.with && findings_of(*loaded.installation, *alone.with) != from;
  if (!by_with && !alone.without) return false;
  const Findings to = findings_of(*loaded.installation, *to_);
  if (from == to || (!by_with && findings_of(*loaded.installation, *alone.without) == to)) return false;
  out = {document.file, variation.told, {}, {}};
  std::set_difference(from.begin(), from.end(), to.begin(), to.end(), std::back_inserter(out.only_from));
  std::set_difference(to.begin(), to.end(), from.begin(), from.end(), std::back_inserter(out.only_to));
  return true;
}

/// The permit is of a day on which something begins to hold or ends, or of the day before.
bool Witnesses::vary_date(const Document& document, const Alone& alone, Witness& out) {
  const string& bytes = document.bytes;
  const std::size_t root = bytes.find("<installation");
  if (dates_.empty() || root == string::npos) return false;
  const std::size_t end = bytes.find('>', root);
  const string written = fmt::format(" {}=\"", date_of_permit);
  const std::size_t at = bytes.find(written, root);
  return std::any_of(dates_.begin(), dates_.end(), [&](const string& date) {
    Variation v{bytes, fmt::format("{} {}", date_of_permit, date)};
    if (at < end) {
      const std::size_t value = at + written.size(), size = bytes.find('"', value) - value;
      if (bytes.compare(value, size, date) == 0) return false;
      v.told += " in place of " + bytes.substr(value, size);
      v.bytes.replace(value, size, date);
    } else {
      v.bytes.insert(root + string("<installation").size(), written + date + "\"");
    }
    return attempt(document, alone, v, out);
  });
}

/// One attribute at a time takes a word that decides, or one that does not.
bool Witnesses::vary_words(const Document& document, const Difference& difference, const Alone& alone,
                           Witness& out) {
  constexpr std::size_t most_others = 4;
  for (const Difference::Words& of : difference.words) {
    std::vector<string> all = of.words;
    std::size_t others = 0;
    for (const string& word : seen_[of.attribute]) {
      const bool is_new = std::find(all.begin(), all.end(), word) == all.end();
      if (is_new && others++ < most_others) all.push_back(word);
    }
    for (const string& word : all) {
      if (vary_word(document, of, word, alone, out)) return true;
    }
  }
  return false;
}

bool Witnesses::vary_word(const Document& document, const Difference::Words& of, const string& word,
                          const Alone& alone, Witness& out) {
  const string& bytes = document.bytes;
  const string written = fmt::format(" {}=\"", of.attribute);
  for (std::size_t at = bytes.find(written); at != string::npos && tries_ > 0;
       at = bytes.find(written, at + 1)) {
    const std::size_t tag = bytes.rfind('<', at), value = at + written.size(), end = bytes.find('"', value);
    if (tag == string::npos || end == string::npos) continue;
    const string element = bytes.substr(tag + 1, bytes.find_first_of(" \t\r\n", tag) - tag - 1);
    if (!of.element.empty() && element != of.element) continue;
    const string old = bytes.substr(value, end - value);
    if (old == word) continue;
    Variation v{bytes, fmt::format("{} {} in place of {}", of.attribute, word, old)};
    v.bytes.replace(value, old.size(), word);
    if (attempt(document, alone, v, out)) return true;
  }
  const std::size_t root = bytes.find("<installation");
  const bool stated =
      root == string::npos || bytes.substr(root, bytes.find('>', root) - root).find(written) != string::npos;
  if (of.element != "installation" || stated) return false;
  Variation v{bytes, fmt::format("{} {}", of.attribute, word)};
  v.bytes.insert(root + string("<installation").size(), written + word + "\"");
  return attempt(document, alone, v, out);
}

/// One attribute at a time takes a value that lies between what the two laws say.
bool Witnesses::vary(const Document& document, const Difference& difference, const Alone& alone,
                     Witness& out) {
  const string& bytes = document.bytes;
  std::set<string> done;
  for (std::size_t at = bytes.find("=\""); at != string::npos && tries_ > 0; at = bytes.find("=\"", at + 2)) {
    const std::size_t end = bytes.find('"', at + 2);
    if (end == string::npos) return false;
    const string value = bytes.substr(at + 2, end - at - 2);
    std::size_t name = at;
    while (name > 0 &&
           (std::isalnum(static_cast<unsigned char>(bytes[name - 1])) != 0 || bytes[name - 1] == '-'))
      --name;
    for (const Amount& amount : difference.amounts) {
      const Dimension dimension = dimension_of(amount.unit);
      if (dimension == Dimension::none || !parse_amount(value, dimension)) continue;
      for (const string& other : between(difference.amounts, dimension)) {
        const string key = bytes.substr(name, at - name) + "=" + value + ">" + other;
        if (other == value || !done.insert(key).second) continue;
        Variation v{bytes, fmt::format("{} {} in place of {}", bytes.substr(name, at - name), other, value)};
        v.bytes.replace(at + 2, value.size(), other);
        if (attempt(document, alone, v, out)) return true;
      }
      break;
    }
  }
  return false;
}

}  // namespace raceward::command
