// A layer as its file says it, before anything in it is looked up.
//
// Texts and offsets point into the layer's own file. What is here was checked for form only; resolve.cpp
// checks it against the sources, the tables and the units, and makes the law.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ruleset/text_file.hpp"

namespace raceward::ruleset {

/// A value as written and where it stands; `offset` is that of the element where it is not written.
struct Field {
  std::string text;
  std::size_t offset = 0;
  bool written = false;
};

/// Who says so: attributes of <cite> and <parameter>, or the head and the last columns of a table.
struct CitationFields {
  Field document, section, basis, source, note;
};

struct DocumentFields {
  Field id, title, cited_as, publisher, edition, change;
};

struct SourceFields {
  Field id, title;
};

/// A section number of the base and what stands for it here.
struct RenumberedFields {
  Field from, to;
  CitationFields cite;  ///< its section is not written
};

struct UsesFields {
  Field rule, force, change;
  std::vector<CitationFields> cites;
};

/// <when test reason/> of a rule.
struct WhenFields {
  Field test, reason;
};

/// <assert test measured limit message cure/> of a rule.
struct AssertFields {
  Field test, measured, limit, message, cure;
};

/// A rule as data: what it asks, and where that stands.
struct RuleFields {
  Field id, subject, title, why, force, change, needs, may_lack;
  std::vector<CitationFields> cites;
  std::vector<WhenFields> whens;
  std::vector<AssertFields> asserts;
};

struct ParameterFields {
  Field name, value, text, change;
  CitationFields cite;
};

struct TableFields {
  Field name, file, change;
};

struct FactFields {
  Field name, of, value, words, title;
};

/// One test of a condition, or a group of them; `element` is the name of the XML element.
struct ConditionFields {
  std::string element;
  std::size_t offset = 0;
  Field attribute, fact, figure, attested, of, is, at_least, at_most, more_than, less_than;
  std::vector<ConditionFields> parts;
};

/// <requires>: what must hold, in the words of conditions.
struct RequiresFields {
  std::size_t offset = 0;
  Field id, subject, title, why, message, cure, force, change;
  std::vector<CitationFields> cites;
  std::vector<ConditionFields> given, must;
};

/// <where>: what holds under a condition only.
struct WhereFields {
  std::size_t offset = 0;
  Field occupancy, use, location, circuit, raceway, permit_from, permit_before;
  Field adopts;
  std::vector<ConditionFields> conditions;
  std::vector<UsesFields> uses;
  std::vector<ParameterFields> parameters;
  std::vector<TableFields> tables;
};

struct Layer {
  Field id, title, base, units, effective_from, effective_before;
  std::vector<DocumentFields> documents;
  std::vector<SourceFields> sources;
  std::vector<RenumberedFields> renumbered;
  std::vector<UsesFields> uses;
  std::vector<RuleFields> rules;
  std::vector<ParameterFields> parameters;
  std::vector<TableFields> tables;
  std::vector<FactFields> facts;
  std::vector<WhereFields> wheres;
  std::vector<RequiresFields> requirements;
};

/// Reads a layer file. Every fault of form goes to `problems`; what could be read comes back, or nothing.
std::optional<Layer> read_layer(const TextFile& file, Problems& problems);

}  // namespace raceward::ruleset
