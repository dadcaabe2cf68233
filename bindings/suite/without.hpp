// A law with something taken away, and whether an installation shows it.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "suite.hpp"
#include "traced.hpp"

namespace raceward::suite {

/// The same table with one row otherwise, or without it where there are no quantities.
Table with_row(const Table& table, std::uint32_t changed, const std::vector<std::int64_t>* quantities,
               const std::vector<std::string>* texts);

/// What is found and computed of a document: equal where nothing comes out otherwise.
std::string shown_of(const Document& document, const Installation& installation, const ReadyLaw& law);

/// The law without these of its entries.
std::shared_ptr<const ReadyLaw> without(const Law& law, const std::vector<Traced::Entry>& all,
                                        const std::vector<std::size_t>& entries,
                                        const std::vector<const Rule*>& extra_rules);

/// Of these entries those without which something changes; they are taken out of `entries`. `changes` says
/// whether anything is otherwise without some: many are asked about together, and halved where it is.
std::vector<std::size_t> missed_without(
    std::vector<std::size_t>& entries,
    const std::function<bool(const std::vector<std::size_t>& some)>& changes);

/// Entries of `entries` by the table that they are of, parameters together.
std::vector<std::vector<std::size_t>> by_table(const std::vector<Traced::Entry>& all,
                                               const std::vector<std::size_t>& entries);

}  // namespace raceward::suite
