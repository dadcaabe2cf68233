/* A module that cannot be loaded, or not all of it: the build names the fault. */
#if defined(FUNCTION_AS_ENTRY)
__attribute__((visibility("default"))) void raceward_entry(void) {}
#elif defined(CUT_OFF)
__attribute__((visibility("default"))) const char raceward_entry[] = "RACEWARD";
#elif defined(NO_ENTRY)
__attribute__((visibility("default"))) int something_else = 1;
#else

#include "raceward/module.h"

#include "plain.h"

static const raceward_rule good = LENGTH_RULE("entry-good", judge_length);

#if defined(BAD_RULES)
static const char garbage[] = "\x1b[2J";
static const raceward_rule rules[] = {
    LENGTH_RULE("Bad Id", judge_length),
    LENGTH_RULE("bad-kind", judge_length),
    LENGTH_RULE("bad-judge", NULL),
    LENGTH_RULE("bad-list", judge_length),
    LENGTH_RULE("bad-text", judge_length),
    LENGTH_RULE("bad-size", judge_length),
};
static raceward_rule changed[6];
static const raceward_rule* rule(uint32_t number) {
  if (number == 6) return NULL;
  if (number == 7) return &good;
  changed[number] = rules[number];
  if (number == 1) changed[number].subject = 99;
  if (number == 3) changed[number].messages = NULL;
  if (number == 4) changed[number].title.bytes = garbage, changed[number].title.size = sizeof garbage - 1;
  if (number == 5) changed[number].size = 12;
  return &changed[number];
}
#define COUNT 8
#else
const raceward_rule* rule(uint32_t number);
const raceward_rule* rule(uint32_t number) { return number == 0 ? &good : NULL; }
#endif

#if defined(NO_RULES)
#define COUNT 0
#elif !defined(COUNT)
#define COUNT 1
#endif

#if defined(NO_MAGIC)
#define SIGN \
  { 'S', 'O', 'M', 'E', 'B', 'O', 'D', 'Y' }
#else
#define SIGN MAGIC
#endif

#if defined(NEWER_MAJOR)
#define MAJOR RACEWARD_ABI_MAJOR + 1
#elif defined(OLDER_MAJOR)
#define MAJOR 0
#else
#define MAJOR RACEWARD_ABI_MAJOR
#endif
#if defined(NEWER_MINOR)
#define MINOR RACEWARD_ABI_MINOR + 1
#else
#define MINOR RACEWARD_ABI_MINOR
#endif

#if defined(SMALL_ENTRY)
#define SIZE 24
#else
#define SIZE sizeof(raceward_module)
#endif

#if defined(NO_NAME)
#define NAME \
  { NULL, 7 }
#else
#define NAME TEXT("entry")
#endif

#if defined(REFUSES)
static int32_t accepts(const raceward_host* host, raceward_text* why) {
  static const raceward_text text = TEXT("it works on the second floor only");
  *why = text;
  return host->version.size > 0;
}
#define ACCEPTS accepts
#else
#define ACCEPTS NULL
#endif

#if defined(CRASHES_AT_LOAD)
__attribute__((constructor)) static void at_load(void) {
  int* volatile nowhere = (int*)8;
  *nowhere = 1;
}
#elif defined(EXITS_AT_LOAD)
#include <stdlib.h>
__attribute__((constructor)) static void at_load(void) { exit(0); }
#elif defined(LOOPS_AT_LOAD)
__attribute__((constructor)) static void at_load(void) {
  for (volatile int i = 0;; ++i) continue;
}
#elif defined(MISSING_SYMBOL)
extern void nobody_has_this(void);
void (*const wanted)(void) = nobody_has_this;
#endif

#if defined(NULL_RULES)
#define RULES NULL
#else
#define RULES rule
#endif

const raceward_module raceward_entry = {.magic = SIGN,
                                            .abi_major = MAJOR,
                                            .abi_minor = MINOR,
                                            .size = SIZE,
                                            .name = NAME,
                                            .version = TEXT("1.0"),
                                            .rule_count = COUNT,
                                            .accepts = ACCEPTS,
                                            .rule = RULES};

#endif
