/* Marks what leaves the library. Symbols are hidden unless marked. */
#ifndef RACEWARD_EXPORT_H
#define RACEWARD_EXPORT_H

#if defined(RACEWARD_STATIC)
#define RACEWARD_API
#elif defined(RACEWARD_MODULE) /* which has what it needs of us for itself */
#define RACEWARD_API __attribute__((visibility("hidden")))
#elif defined(_WIN32) && defined(RACEWARD_BUILDING)
#define RACEWARD_API __declspec(dllexport)
#elif defined(_WIN32)
#define RACEWARD_API __declspec(dllimport)
#else
#define RACEWARD_API __attribute__((visibility("default")))
#endif

#endif
