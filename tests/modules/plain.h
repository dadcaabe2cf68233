/* What modules in plain C share: texts, and a rule about the length of raceways. */
#ifndef RACEWARD_TESTS_PLAIN_H
#define RACEWARD_TESTS_PLAIN_H

#include <string.h>

#define TEXT(literal) \
  { literal, sizeof(literal) - 1 }
#define MAGIC \
  { 'R', 'A', 'C', 'E', 'W', 'A', 'R', 'D' }

static const raceward_text length_figure[] = {TEXT("raceway-length")};
static const raceward_text most_parameter[] = {TEXT("most")};
static const raceward_text length_message[] = {
    TEXT("{where} is {measured} long, and at most {limit} is allowed")};

#define LENGTH_RULE(name, function)                                                                     \
  {                                                                                                     \
    .size = sizeof(raceward_rule), .subject = RACEWARD_RACEWAY, .id = TEXT(name),                       \
    .title = TEXT("A raceway is no longer than allowed"), .why = TEXT("for the test"),                  \
    .cure = TEXT("Make it shorter."), .figures = length_figure, .figure_count = 1,                      \
    .parameters = most_parameter, .parameter_count = 1, .messages = length_message, .message_count = 1, \
    .judge = function                                                                                   \
  }

static inline raceward_verdict* verdict_at(const raceward_batch* b, uint32_t i) {
  return (raceward_verdict*)((char*)b->verdicts + (size_t)i * b->verdict_size);
}

/* At most as long as the law has it. */
static inline void judge_length(const raceward_rule* self, const raceward_batch* b) {
  (void)self;
  for (uint32_t i = 0; i < b->count; ++i) {
    raceward_verdict* v = verdict_at(b, i);
    memset(v, 0, sizeof *v);
    if (b->calls->figure(b->host, i, 0, &v->measured) || b->calls->parameter(b->host, i, 0, &v->limit))
      return;
    v->has = RACEWARD_HAS_MEASURED | RACEWARD_HAS_LIMIT;
    if (v->measured.missing != 0 || v->limit.missing != 0) {
      v->outcome = RACEWARD_UNDETERMINED;
      if (b->calls->both(b->host, v->measured.missing, v->limit.missing, &v->missing)) return;
    } else {
      v->outcome = v->measured.count <= v->limit.count ? RACEWARD_COMPLIES : RACEWARD_VIOLATES;
    }
  }
}

#endif
