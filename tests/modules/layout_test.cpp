// The header of today and that of interface 1.0: each struct begins as it did then, so that modules which
// were built then are read rightly now.
#include <gtest/gtest.h>

#include <cstddef>
#include <cstdint>

#include "raceward/module.h"

namespace {

constexpr int minor_today = RACEWARD_ABI_MINOR;
#undef RACEWARD_MODULE_H
#undef RACEWARD_ABI_MINOR
namespace old {
#define raceward_entry raceward_entry_1_0
#include "module_1_0.h"
#undef raceward_entry
}  // namespace old

static_assert(minor_today >= RACEWARD_ABI_MINOR);

#define SAME(type, field) static_assert(offsetof(old::type, field) == offsetof(::type, field))
#define FROZEN(type) static_assert(sizeof(old::type) == sizeof(::type))
#define GROWN(type) static_assert(sizeof(old::type) <= sizeof(::type))

FROZEN(raceward_text);
FROZEN(raceward_subject);
FROZEN(raceward_reading);
SAME(raceward_text, size);
SAME(raceward_subject, index);
SAME(raceward_reading, unit);
SAME(raceward_reading, missing);
SAME(raceward_reading, cite);
SAME(raceward_reading, place);
GROWN(raceward_verdict);
SAME(raceward_verdict, outcome);
SAME(raceward_verdict, message);
SAME(raceward_verdict, missing);
SAME(raceward_verdict, has);
SAME(raceward_verdict, measured);
SAME(raceward_verdict, limit);
GROWN(raceward_calls);
SAME(raceward_calls, figure);
SAME(raceward_calls, parameter);
SAME(raceward_calls, both);
SAME(raceward_calls, failed);
GROWN(raceward_batch);
SAME(raceward_batch, count);
SAME(raceward_batch, verdict_size);
SAME(raceward_batch, subjects);
SAME(raceward_batch, verdicts);
SAME(raceward_batch, calls);
SAME(raceward_batch, host);
GROWN(raceward_rule);
SAME(raceward_rule, subject);
SAME(raceward_rule, id);
SAME(raceward_rule, title);
SAME(raceward_rule, why);
SAME(raceward_rule, cure);
SAME(raceward_rule, figures);
SAME(raceward_rule, figure_count);
SAME(raceward_rule, parameters);
SAME(raceward_rule, parameter_count);
SAME(raceward_rule, messages);
SAME(raceward_rule, message_count);
SAME(raceward_rule, reasons);
SAME(raceward_rule, reason_count);
SAME(raceward_rule, judge);
GROWN(raceward_host);
SAME(raceward_host, abi_major);
SAME(raceward_host, abi_minor);
SAME(raceward_host, version);
GROWN(raceward_module);
SAME(raceward_module, magic);
SAME(raceward_module, abi_major);
SAME(raceward_module, abi_minor);
SAME(raceward_module, size);
SAME(raceward_module, name);
SAME(raceward_module, version);
SAME(raceward_module, about);
SAME(raceward_module, rule_count);
SAME(raceward_module, accepts);
SAME(raceward_module, rule);

TEST(Layout, TheFirstSixteenBytesOfAnEntryNeverChange) {
  EXPECT_EQ(offsetof(raceward_module, magic), 0u);
  EXPECT_EQ(offsetof(raceward_module, abi_major), 8u);
  EXPECT_EQ(offsetof(raceward_module, abi_minor), 10u);
  EXPECT_EQ(offsetof(raceward_module, size), 12u);
}

}  // namespace
