/* module.h of interface 1.0, as modules were built with it: never changed again. Tests build a module with
 * it, and hold that the header of today begins each struct as this one does. */
#ifndef RACEWARD_MODULE_H
#define RACEWARD_MODULE_H

#include <stddef.h>
#include <stdint.h>

#define RACEWARD_ABI_MAJOR 1
#define RACEWARD_ABI_MINOR 0
#define RACEWARD_MAGIC "RACEWARD" /* eight bytes, and no byte 0 */

#if defined(_WIN32)
#define RACEWARD_ENTRY __declspec(dllexport)
#else
#define RACEWARD_ENTRY __attribute__((visibility("default")))
#endif

#ifdef __cplusplus
extern "C" {
#endif

typedef struct raceward_text {
  const char* bytes;
  size_t size;
} raceward_text;

/* Kinds of subjects. A new kind gets a new number. */
enum {
  RACEWARD_INSTALLATION = 0,
  RACEWARD_AREA = 1,
  RACEWARD_PANEL = 2,
  RACEWARD_OVERCURRENT_DEVICE = 3,
  RACEWARD_BOX = 4,
  RACEWARD_CONDUIT_BODY = 5,
  RACEWARD_EQUIPMENT = 6,
  RACEWARD_JOINT = 7,
  RACEWARD_RACEWAY = 8,
  RACEWARD_PULL_SECTION = 9,
  RACEWARD_CIRCUIT = 10,
  RACEWARD_CONDUCTOR = 11,
  RACEWARD_DEVICE = 12,
  RACEWARD_BONDING_JUMPER = 13,
  RACEWARD_ATTESTATION = 14,
  RACEWARD_PLACE = 15 /* of a rule: any of panel, box, conduit body, equipment, joint */
};

/* Units, each with the step that counts of its dimension are made of. A new unit gets a new number. */
enum {
  RACEWARD_ONE = 0,     /* 1e-9 */
  RACEWARD_PERCENT = 1, /* the same */
  RACEWARD_INCH = 2,    /* 1 pm */
  RACEWARD_FOOT = 3,
  RACEWARD_MILLIMETRE = 4,
  RACEWARD_CENTIMETRE = 5,
  RACEWARD_METRE = 6,
  RACEWARD_SQUARE_INCH = 7, /* 1e-8 mm2 */
  RACEWARD_SQUARE_MILLIMETRE = 8,
  RACEWARD_SQUARE_CENTIMETRE = 9,
  RACEWARD_CUBIC_INCH = 10, /* 1e-6 mm3 */
  RACEWARD_CUBIC_MILLIMETRE = 11,
  RACEWARD_CUBIC_CENTIMETRE = 12,
  RACEWARD_MILLILITRE = 13,
  RACEWARD_DEGREE = 14, /* 1e-6 degree */
  RACEWARD_AMPERE = 15, /* 1 uA */
  RACEWARD_MILLIAMPERE = 16,
  RACEWARD_VOLT = 17, /* 1 uV */
  RACEWARD_KILOVOLT = 18,
  RACEWARD_CELSIUS = 19, /* 1/18000 K, from 0 degree Celsius */
  RACEWARD_FAHRENHEIT = 20,
  RACEWARD_WATT = 21, /* 1 uW */
  RACEWARD_KILOWATT = 22,
  RACEWARD_VOLT_AMPERE = 23,
  RACEWARD_KILOVOLT_AMPERE = 24,
  RACEWARD_OHM = 25, /* 1 nOhm */
  RACEWARD_MILLIOHM = 26
};

/* One thing in one installation; valid for that installation only. */
typedef struct raceward_subject {
  uint32_t kind;
  uint32_t index;
} raceward_subject;

#define RACEWARD_NO_CITATION 0xffffffffu

/* A figure or a parameter: a value, or the facts that are missing for it. */
typedef struct raceward_reading {
  int64_t count;          /* steps */
  uint32_t unit;          /* how reports show it; may be changed to another one of its dimension */
  uint32_t missing;       /* 0: known; else a set of missing facts that the host keeps */
  uint32_t cite;          /* where the law says so, or RACEWARD_NO_CITATION */
  uint32_t nothing;       /* 0 */
  raceward_subject place; /* the element that the value is about */
} raceward_reading;

enum { RACEWARD_COMPLIES = 0, RACEWARD_VIOLATES = 1, RACEWARD_UNDETERMINED = 2, RACEWARD_NOT_APPLICABLE = 3 };
enum { RACEWARD_HAS_MEASURED = 1, RACEWARD_HAS_LIMIT = 2 }; /* bits of raceward_verdict.has */

/* What a rule says of one subject. */
typedef struct raceward_verdict {
  uint32_t outcome;
  uint32_t message; /* violates: position in the rule's messages; not applicable: in its reasons */
  uint32_t missing; /* undetermined: the facts that are missing; never 0 */
  uint32_t has;     /* which of these two there are */
  raceward_reading measured;
  raceward_reading limit;
} raceward_verdict;

/* What a call of the host answers. */
enum {
  RACEWARD_DONE = 0,
  RACEWARD_STOP = 1 /* the batch is given up: return from judge at once, its verdicts count no more */
};

/* What a module may ask of its host while it judges a batch. `host` is the batch's; `subject` is a position
 * in the batch. A position that there is not, and a figure that the rule does not list, read as missing and
 * are reported as the rule's fault. */
typedef struct raceward_calls {
  size_t size;
  int32_t (*figure)(void* host, uint32_t subject, uint32_t position, raceward_reading* out);
  int32_t (*parameter)(void* host, uint32_t subject, uint32_t position, raceward_reading* out);
  /* Both sets of missing facts together. */
  int32_t (*both)(void* host, uint32_t a, uint32_t b, uint32_t* out);
  /* The rule could not judge this subject, and why: its verdict is not read. */
  int32_t (*failed)(void* host, uint32_t subject, raceward_text why);
} raceward_calls;

/* Subjects of the rule's kind, to be judged in one call; at most a few hundred. Each verdict must be written:
 * the i-th begins at (char*)verdicts + i * verdict_size. The host may ask again about one of them. */
typedef struct raceward_batch {
  size_t size;
  uint32_t count;
  uint32_t verdict_size; /* of the host's raceward_verdict; not less than yours */
  const raceward_subject* subjects;
  raceward_verdict* verdicts;
  const raceward_calls* calls;
  void* host;
} raceward_batch;

struct raceward_rule;
typedef struct raceward_rule raceward_rule;
struct raceward_rule {
  size_t size;
  uint32_t subject;    /* kind of what it judges */
  raceward_text id;    /* lower-case letters, digits and "-", and where it comes from: "house-longest-pull" */
  raceward_text title; /* one sentence: what must hold */
  raceward_text why;   /* one or two sentences: what goes wrong otherwise */
  raceward_text cure;
  const raceward_text* figures; /* names of the figures that it reads */
  size_t figure_count;
  const raceward_text* parameters; /* names of the parameters that it reads */
  size_t parameter_count;
  const raceward_text* messages; /* for *violates*; {where}, {measured}, {limit}, {place} are filled in */
  size_t message_count;
  const raceward_text* reasons; /* for *not applicable* */
  size_t reason_count;
  void (*judge)(const raceward_rule* self, const raceward_batch* batch);
};

/* What a host says of itself. */
typedef struct raceward_host {
  size_t size;
  uint16_t abi_major;
  uint16_t abi_minor;
  raceward_text version; /* of Raceward: "0.1.0" */
} raceward_host;

typedef struct raceward_module {
  char magic[8];      /* RACEWARD_MAGIC */
  uint16_t abi_major; /* RACEWARD_ABI_MAJOR and RACEWARD_ABI_MINOR of the header that it was built with */
  uint16_t abi_minor;
  uint32_t size; /* of this struct there */
  raceward_text name;
  raceward_text version;
  raceward_text about; /* one sentence: whose rules these are */
  uint32_t rule_count;
  /* May be null. 0: the module works with this host; else it is refused, and `why` says why in a sentence. */
  int32_t (*accepts)(const raceward_host* host, raceward_text* why);
  /* The rule of that number, from 0 to rule_count - 1. */
  const raceward_rule* (*rule)(uint32_t number);
} raceward_module;

/* What a module exports. */
RACEWARD_ENTRY extern const raceward_module raceward_entry;

#ifdef __cplusplus
}
#endif

#endif
