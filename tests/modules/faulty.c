/* A module in plain C whose rules do what no rule should, each one thing. */
#include <stdlib.h>

#include "raceward/module.h"

#include "plain.h"

/* The i-th answer, as if the rule had read a length of one foot. */
static raceward_verdict* answer(const raceward_batch* b, uint32_t i, uint32_t outcome) {
  raceward_verdict* const v = verdict_at(b, i);
  memset(v, 0, sizeof *v);
  v->outcome = outcome;
  v->has = RACEWARD_HAS_MEASURED;
  v->measured.count = 304800000000;
  v->measured.unit = RACEWARD_FOOT;
  v->measured.cite = RACEWARD_NO_CITATION;
  v->measured.place = b->subjects[i];
  return v;
}

#define RULE(function) static void function(const raceward_rule* self, const raceward_batch* b)
#define EACH                                             \
  (void)self;                                            \
  for (uint32_t i = 0, n = b->count; i < n; ++i)

RULE(no_answer) { (void)self, (void)b; }
RULE(too_few) {
  (void)self;
  answer(b, 0, RACEWARD_COMPLIES);
}
RULE(too_many) {
  (void)self;
  for (uint32_t i = 0; i < b->count; ++i) answer(b, i, RACEWARD_COMPLIES);
  /* There is no subject of this number, but a place where its answer would be. */
  memset(verdict_at(b, b->count), 0, b->verdict_size);
}
RULE(garbage) { EACH memset(verdict_at(b, i), 0xff, b->verdict_size); }
RULE(unknown_outcome) { EACH answer(b, i, 4); }
RULE(unknown_message) { EACH answer(b, i, RACEWARD_VIOLATES)->message = 12; }
RULE(nothing_missing) { EACH answer(b, i, RACEWARD_UNDETERMINED); }
RULE(unknown_missing) { EACH answer(b, i, RACEWARD_UNDETERMINED)->missing = 123456; }
RULE(unknown_values) { EACH answer(b, i, RACEWARD_VIOLATES)->has = 64; }
RULE(unknown_unit) { EACH answer(b, i, RACEWARD_VIOLATES)->measured.unit = 200; }
RULE(no_number) { EACH answer(b, i, RACEWARD_VIOLATES)->measured.count = INT64_MIN; }
RULE(unknown_citation) { EACH answer(b, i, RACEWARD_VIOLATES)->measured.cite = 5000; }
RULE(unknown_element) { EACH answer(b, i, RACEWARD_VIOLATES)->measured.place.index = 4000000000u; }
RULE(unknown_kind) { EACH answer(b, i, RACEWARD_VIOLATES)->measured.place.kind = 77; }
RULE(two_kinds) {
  EACH {
    raceward_verdict* const v = answer(b, i, RACEWARD_VIOLATES);
    v->has |= RACEWARD_HAS_LIMIT;
    v->limit = v->measured;
    v->limit.unit = RACEWARD_AMPERE;
  }
}
RULE(unknown_figure) {
  EACH {
    raceward_reading out;
    b->calls->figure(b->host, i, 9, &out);
    answer(b, i, RACEWARD_COMPLIES);
  }
}
RULE(unknown_parameter) {
  EACH {
    raceward_reading out;
    b->calls->parameter(b->host, i, 9, &out);
    answer(b, i, RACEWARD_COMPLIES);
  }
}
RULE(unknown_subject) {
  EACH {
    raceward_reading out;
    b->calls->figure(b->host, i + b->count, 0, &out);
    answer(b, i, RACEWARD_COMPLIES);
  }
}
RULE(joins_nothing) {
  EACH {
    uint32_t out = 0;
    b->calls->both(b->host, 70000, 80000, &out);
    answer(b, i, RACEWARD_UNDETERMINED)->missing = out;
  }
}
/* It says that all is well of a value that it knows to be missing. */
RULE(hides_missing) {
  EACH {
    raceward_verdict* const v = answer(b, i, RACEWARD_COMPLIES);
    b->calls->figure(b->host, i, 0, &v->measured);
  }
}
RULE(reads_without_end) {
  EACH {
    raceward_reading out;
    while (b->calls->figure(b->host, i, 0, &out) == RACEWARD_DONE) continue;
    answer(b, i, RACEWARD_COMPLIES);
  }
}
RULE(ignores_stop) {
  EACH {
    raceward_reading out;
    for (;;) b->calls->figure(b->host, i, 0, &out);
  }
}
RULE(loops) {
  (void)self;
  for (volatile uint32_t i = 0;; ++i) (void)b;
}
RULE(crashes) {
  (void)self;
  uint32_t* volatile nowhere = (uint32_t*)8;
  *nowhere = b->count;
}
RULE(aborts) {
  (void)self, (void)b;
  abort();
}
RULE(ends) {
  (void)self, (void)b;
  exit(0);
}
/* The second time, when the report is made, it is worse. */
RULE(crashes_when_told) {
  EACH answer(b, i, RACEWARD_VIOLATES)->message = 0;
  if (b->count == 1) abort();
}

static const raceward_rule rules[] = {
    LENGTH_RULE("good", judge_length),
    LENGTH_RULE("no-answer", no_answer),
    LENGTH_RULE("too-few", too_few),
    LENGTH_RULE("too-many", too_many),
    LENGTH_RULE("garbage", garbage),
    LENGTH_RULE("unknown-outcome", unknown_outcome),
    LENGTH_RULE("unknown-message", unknown_message),
    LENGTH_RULE("nothing-missing", nothing_missing),
    LENGTH_RULE("unknown-missing", unknown_missing),
    LENGTH_RULE("unknown-values", unknown_values),
    LENGTH_RULE("unknown-unit", unknown_unit),
    LENGTH_RULE("no-number", no_number),
    LENGTH_RULE("unknown-citation", unknown_citation),
    LENGTH_RULE("unknown-element", unknown_element),
    LENGTH_RULE("unknown-kind", unknown_kind),
    LENGTH_RULE("two-kinds", two_kinds),
    LENGTH_RULE("unknown-figure", unknown_figure),
    LENGTH_RULE("unknown-parameter", unknown_parameter),
    LENGTH_RULE("unknown-subject", unknown_subject),
    LENGTH_RULE("joins-nothing", joins_nothing),
    LENGTH_RULE("hides-missing", hides_missing),
    LENGTH_RULE("reads-without-end", reads_without_end),
    LENGTH_RULE("ignores-stop", ignores_stop),
    LENGTH_RULE("loops", loops),
    LENGTH_RULE("crashes", crashes),
    LENGTH_RULE("aborts", aborts),
    LENGTH_RULE("ends", ends),
    LENGTH_RULE("crashes-when-told", crashes_when_told),
};

#define COUNT (sizeof rules / sizeof rules[0])
static const raceward_rule* rule(uint32_t number) { return number < COUNT ? &rules[number] : NULL; }

const raceward_module raceward_entry = {.magic = MAGIC,
                                        .abi_major = RACEWARD_ABI_MAJOR,
                                        .abi_minor = RACEWARD_ABI_MINOR,
                                        .size = sizeof(raceward_module),
                                        .name = TEXT("faulty-c"),
                                        .version = TEXT("1.0"),
                                        .about = TEXT("Everything that can go wrong."),
                                        .rule_count = COUNT,
                                        .rule = rule};
