// Documents of all shapes that still load, through the whole check: whatever they say, each rule comes to a
// verdict on each subject, none fails, and what is determined is cited and shown. Changes are made on
// elements and attributes rather than on bytes, so that most documents load.
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <pugixml.hpp>
#include <random>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "document/vocabulary.hpp"
#include "quantity/units.hpp"
#include "raceward/engine.hpp"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t max_size);

namespace {

using namespace raceward::document;

void hold(bool condition) {
  if (!condition) std::abort();
}

class Mutation {
 public:
  Mutation(pugi::xml_document& file, unsigned seed) : draw_(seed) { collect(file); }

  void change() {
    if (nodes_.size() < 2) return;
    pugi::xml_node node = nodes_[1 + draw_() % (nodes_.size() - 1)];
    const Element element = element_of(node);
    if (element == Element::unknown) return;
    switch (draw_() % 8) {
      case 0:
        node.parent().remove_child(node);
        break;
      case 1:
        again(node);
        break;
      case 2:
        if (pugi::xml_node other = node.next_sibling()) node.parent().insert_move_after(node, other);
        break;
      case 3:
        remove_attribute(node);
        break;
      case 4:
        swap_value(node, element);
        break;
      default:
        write_value(node, element);
        break;
    }
    const pugi::xml_node root = nodes_[0];
    nodes_.clear();
    collect(root.parent());
  }

 private:
  void collect(pugi::xml_node parent) {
    for (pugi::xml_node child : parent.children()) {
      if (child.type() != pugi::node_element) continue;
      nodes_.push_back(child);
      collect(child);
    }
  }
  static Element element_of(pugi::xml_node node) {
    for (std::size_t e = 0; e < element_count; ++e)
      if (element_words.terms[e].spelling == node.name()) return static_cast<Element>(e);
    return Element::unknown;
  }

  void again(pugi::xml_node node) {
    pugi::xml_node copy = node.parent().insert_copy_after(node, node);
    const std::string more = std::to_string(draw_() % 1000);
    const auto rename = [&](pugi::xml_node bearer) {
      if (pugi::xml_attribute id = bearer.attribute("id")) id.set_value((id.value() + more).c_str());
    };
    rename(copy);
    if (std::string_view(copy.name()) == "panel")
      for (pugi::xml_node child : copy.children()) rename(child);
  }
  void remove_attribute(pugi::xml_node node) {
    std::vector<pugi::xml_attribute> all(node.attributes_begin(), node.attributes_end());
    if (!all.empty()) node.remove_attribute(all[draw_() % all.size()]);
  }
  // A value that the same attribute has elsewhere.
  void swap_value(pugi::xml_node node, Element element) {
    const auto& names = row_of(element).attributes.terms;
    const std::string name(names[draw_() % names.size()].spelling);
    for (int tries = 0; tries < 20 && name != "id"; ++tries) {
      const pugi::xml_attribute other = nodes_[draw_() % nodes_.size()].attribute(name.c_str());
      if (!other) continue;
      attribute(node, name).set_value(other.value());
      return;
    }
  }
  static pugi::xml_attribute attribute(pugi::xml_node node, const std::string& name) {
    const pugi::xml_attribute there = node.attribute(name.c_str());
    return there ? there : node.append_attribute(name.c_str());
  }
  void write_value(pugi::xml_node node, Element element) {
    const ElementRow& row = row_of(element);
    const std::size_t i = draw_() % row.rows.size();
    const std::string value = value_of(row.rows[i].form);
    if (!value.empty())
      attribute(node, std::string(row.attributes.terms[i].spelling)).set_value(value.c_str());
  }
  std::string value_of(const Form& form) {
    switch (form.kind) {
      case Form::Kind::words:
      case Form::Kind::insulations:
        return std::string(form.words->terms[draw_() % form.words->terms.size()].spelling);
      case Form::Kind::quantity: {
        static constexpr const char* numbers[] = {"0",   "0.000001", "0.5", "1",    "2",
                                                  "4.5", "10",       "20",  "24",   "90",
                                                  "180", "277",      "360", "8999", "9999.5"};
        const auto units = raceward::quantity::unit_ranges[static_cast<std::size_t>(form.dimension)];
        const auto unit = units.first + draw_() % (units.last - units.first);
        return numbers[draw_() % std::size(numbers)] +
               std::string(raceward::quantity::unit_rows[unit].symbol);
      }
      case Form::Kind::position:
        return std::to_string(draw_() % 20) + "ft " + std::to_string(draw_() % 20) + "ft -" +
               std::to_string(draw_() % 20) + ".5in";
      case Form::Kind::count:
        return std::to_string(draw_() % 4 == 0 ? form.most
                                               : form.least + static_cast<std::int64_t>(draw_() % 3));
      default:
        return {};
    }
  }

  std::mt19937 draw_;
  std::vector<pugi::xml_node> nodes_;
};

const raceward::Law& law() {
  static const raceward::LoadedLaw loaded = raceward::load_ruleset("nec-2023");
  hold(loaded.law != nullptr);
  return *loaded.law;
}

void hold_report(const raceward::Report& report) {
  std::uint64_t violations = 0, undetermined = 0;
  for (const raceward::LedgerLine& line : report.ledger) {
    violations += line.violates;
    undetermined += line.undetermined;
  }
  hold(report.findings.size() == violations + undetermined);
  for (const raceward::Finding& finding : report.findings) {
    hold(!finding.message.empty() && finding.place.line != 0);
    if (finding.kind == raceward::Finding::Kind::undetermined)
      hold(!finding.needs.empty());
    else
      hold(!finding.cites.empty() && !finding.working.empty());
  }
  for (const raceward::NotChecked& each : report.not_checked)
    hold(!each.why.starts_with("fault of the rule"));
}

}  // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t max_size,
                                               unsigned seed) {
  pugi::xml_document file;
  if (!file.load_buffer(data, size)) return LLVMFuzzerMutate(data, size, max_size);
  Mutation mutation(file, seed);
  for (unsigned i = 0; i <= seed % 5; ++i) mutation.change();
  std::ostringstream out;
  file.save(out, "", pugi::format_raw);
  const std::string text = out.str();
  if (text.size() > max_size) return size;
  std::memcpy(data, text.data(), text.size());
  return text.size();
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const raceward::Loaded loaded = raceward::load_bytes(bytes, "a.xml");
  if (!loaded.installation) return 0;
  const raceward::Report report = raceward::check(*loaded.installation, law(), {});
  hold_report(report);
  hold(!raceward::text_report(report).empty() && !raceward::json_report(report).empty());
  for (const raceward::FigureLine& line : raceward::figures(*loaded.installation, law()))
    hold(line.known ? !line.shown.empty() : !line.needs.empty());
  return 0;
}
