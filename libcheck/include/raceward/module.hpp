// For authors of compiled modules: rules written as for rule.hpp, handed out over the border of module.h.
//
//   // house.cpp, beside one file for each rule
//   #include <raceward/module.hpp>
//   namespace house {
//   extern const raceward::Rule longest_pull, fewest_supports;
//   }
//   RACEWARD_MODULE_OF("house", "1.0", "Rules of our house.", &house::longest_pull, &house::fewest_supports)
//
// Build it with raceward_add_module (docs/modules.md), which keeps every symbol but one to the module. All of
// this is in the header: a module is not linked with Raceward, and may be built by another compiler or
// against another version. What is declared in raceward/*.hpp and not defined there is not to be had in a
// module.
//
// What `judge` throws is caught here and told to the host; nothing passes the border.
#pragma once

#ifndef RACEWARD_MODULE
#error "build a module with raceward_add_module, or define RACEWARD_MODULE before any of raceward's headers"
#endif

#include <cstdint>
#include <cstring>
#include <exception>
#include <string_view>
#include <vector>

#include "raceward/module.h"
#include "raceward/rule.hpp"

namespace raceward::module {

/// The host gives up the batch: thrown by what a rule asks, caught before the border.
struct Stopped {};

inline Reading reading_of(const raceward_reading& r) {
  return {{r.count, static_cast<Unit>(r.unit)},
          r.missing,
          r.cite,
          {static_cast<SubjectKind>(r.place.kind), r.place.index}};
}

inline raceward_reading reading_of(const Reading& r) {
  return {r.amount.count,
          static_cast<std::uint32_t>(r.amount.unit),
          r.missing,
          r.cite,
          0,
          {static_cast<std::uint32_t>(r.place.kind), r.place.index}};
}

inline raceward_text text_of(std::string_view text) { return {text.data(), text.size()}; }

/// One subject of a batch, as a rule sees it.
class Shown final : public Context {
 public:
  Shown(const raceward_batch& batch, std::uint32_t position) : batch_(batch), position_(position) {}

  [[nodiscard]] Subject subject() const override {
    const raceward_subject& s = batch_.subjects[position_];
    return {static_cast<SubjectKind>(s.kind), s.index};
  }
  [[nodiscard]] Reading figure(std::uint32_t position) const override {
    return read(batch_.calls->figure, position);
  }
  [[nodiscard]] Reading parameter(std::uint32_t position) const override {
    return read(batch_.calls->parameter, position);
  }
  [[nodiscard]] MissingId both(MissingId a, MissingId b) const override {
    MissingId joined = 0;
    if (batch_.calls->both(batch_.host, a, b, &joined) != RACEWARD_DONE) throw Stopped{};
    return joined;
  }

 private:
  Reading read(decltype(raceward_calls::figure) call, std::uint32_t position) const {
    raceward_reading out{};
    if (call(batch_.host, position_, position, &out) != RACEWARD_DONE) throw Stopped{};
    return reading_of(out);
  }

  const raceward_batch& batch_;
  const std::uint32_t position_;
};

/// A rule as it is told to the host. The lists that it points to are its own.
struct Told : raceward_rule {
  explicit Told(const Rule& r) : raceward_rule{}, rule(&r) {
    size = sizeof(raceward_rule);
    raceward_rule::subject = static_cast<std::uint32_t>(r.subject);
    id = text_of(r.id);
    title = text_of(r.title);
    why = text_of(r.why);
    cure = text_of(r.cure);
    unseen = text_of(r.unseen);
    figures = list(r.figures, figure_count, lists[0]);
    parameters = list(r.parameters, parameter_count, lists[1]);
    messages = list(r.messages, message_count, lists[2]);
    reasons = list(r.reasons, reason_count, lists[3]);
    judge = &judge_batch;
  }
  Told(const Told&) = delete;
  Told& operator=(const Told&) = delete;

  static const raceward_text* list(std::span<const std::string_view> texts, std::size_t& count,
                                   std::vector<raceward_text>& out) {
    for (const std::string_view text : texts) out.push_back(text_of(text));
    count = out.size();
    return out.data();
  }

  static void judge_batch(const raceward_rule* self, const raceward_batch* batch) noexcept {
    const Rule& rule = *static_cast<const Told*>(self)->rule;
    for (std::uint32_t i = 0; i < batch->count; ++i) {
      try {
        put(rule.judge(Shown(*batch, i)), *batch, i);
      } catch (const Stopped&) {
        return;
      } catch (const std::exception& error) {
        if (!fail(*batch, i, error.what())) return;
      } catch (...) {
        if (!fail(*batch, i, {})) return;
      }
    }
  }

  static void put(const Verdict& v, const raceward_batch& batch, std::uint32_t i) {
    raceward_verdict out{};
    out.outcome = static_cast<std::uint32_t>(v.outcome);
    out.message = v.message;
    out.missing = v.missing;
    out.has = (v.has_measured ? static_cast<std::uint32_t>(RACEWARD_HAS_MEASURED) : 0u) |
              (v.has_limit ? static_cast<std::uint32_t>(RACEWARD_HAS_LIMIT) : 0u);
    out.measured = reading_of(v.measured);
    out.limit = reading_of(v.limit);
    std::memcpy(reinterpret_cast<char*>(batch.verdicts) + std::size_t{i} * batch.verdict_size, &out,
                sizeof(out));
  }

  static bool fail(const raceward_batch& batch, std::uint32_t i, const char* what) {
    const std::string_view text = what != nullptr ? what : "";
    return batch.calls->failed(batch.host, i, text_of(text)) == RACEWARD_DONE;
  }

  const Rule* rule;
  std::vector<raceward_text> lists[4];
};

/// The host's side of the handshake is its own; this is ours.
inline std::int32_t accepts(const raceward_host* host, raceward_text* why) noexcept {
  if (host->abi_major == RACEWARD_ABI_MAJOR && host->abi_minor >= RACEWARD_ABI_MINOR) return 0;
  *why = text_of("it needs a newer Raceward, or must be built anew with the headers of this one");
  return 1;
}

template <const Rule*... rules>
const raceward_rule* rule(std::uint32_t number) noexcept {
  try {
    // Made at the first call and never given up: the host keeps pointers to it.
    static const Told* const* const told = new const Told* [sizeof...(rules)] { new Told(*rules)... };
    return number < sizeof...(rules) ? told[number] : nullptr;
  } catch (...) {
    return nullptr;
  }
}

template <const Rule*... rules>
constexpr raceward_module entry(std::string_view name, std::string_view version, std::string_view about) {
  raceward_module m{};
  for (int i = 0; i < 8; ++i) m.magic[i] = RACEWARD_MAGIC[i];
  m.abi_major = RACEWARD_ABI_MAJOR;
  m.abi_minor = RACEWARD_ABI_MINOR;
  m.size = sizeof(raceward_module);
  m.name = {name.data(), name.size()};
  m.version = {version.data(), version.size()};
  m.about = {about.data(), about.size()};
  m.rule_count = sizeof...(rules);
  m.accepts = &accepts;
  m.rule = &rule<rules...>;
  return m;
}

}  // namespace raceward::module

/// Name, version and a sentence about the module, as literals; then the address of each rule. Once in a
/// module, outside of any namespace.
#define RACEWARD_MODULE_OF(name, version, about, ...)                  \
  extern "C" RACEWARD_ENTRY constexpr raceward_module raceward_entry = \
      ::raceward::module::entry<__VA_ARGS__>(name, version, about);
