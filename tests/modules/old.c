/* A module built with the header of interface 1.0. */
#include "module_1_0.h"
#include "plain.h"

static const raceward_rule rules[] = {LENGTH_RULE("old-length", judge_length)};
static const raceward_rule* rule(uint32_t number) { return number < 1 ? &rules[number] : NULL; }

const raceward_module raceward_entry = {.magic = MAGIC,
                                        .abi_major = RACEWARD_ABI_MAJOR,
                                        .abi_minor = RACEWARD_ABI_MINOR,
                                        .size = sizeof(raceward_module),
                                        .name = TEXT("old"),
                                        .version = TEXT("0.9"),
                                        .about = TEXT("From before."),
                                        .rule_count = 1,
                                        .rule = rule};
