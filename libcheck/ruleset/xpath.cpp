#include "ruleset/xpath.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ruleset/text_file.hpp"
#include "ruleset/xpath_operand.hpp"
#include "ruleset/xpath_words.hpp"

namespace raceward::ruleset {
namespace {

using facts::ChildRow;
using facts::FactRow;
using facts::Holds;
using facts::Shape;
using Form = Holds::Form;
using Kind = XpathWord::Kind;

constexpr int deepest = 64;
constexpr std::size_t longest = 4096;

class Checker {
 public:
  Checker(std::string_view text, const Names& names, Expression& out)
      : text_(text), names_(names), out_(out), words_(xpath_words(text)) {
    context_ = names.subject;
    reads_ = &out.reads;
  }

  std::optional<ExpressionFault> expression(Gives gives) {
    if (text_.size() > longest) return ExpressionFault{0, "the expression is longer than any that is read"};
    const Operand all = any();
    if (!fault_ && now().kind != Kind::end) unexpected();
    if (!fault_) {
      if (gives != Gives::number) {
        as_truth(all);
        if (!fault_ && gives == Gives::must) refuse(must_fault(all));
      } else if (all.is != Operand::Is::number) {
        fail(all.from, fmt::format("this gives {}, and a number is wanted", name_of(all)));
      } else if (all.many) {
        fail(all.from, "this may lead to several; take sum() of them");
      } else if (all.exact == Exact::rough) {
        rough(all);
      }
    }
    out_.text = text_;
    out_.holds = all.holds;
    const auto sort = [](std::vector<std::string>& list) {
      std::sort(list.begin(), list.end());
      list.erase(std::unique(list.begin(), list.end()), list.end());
    };
    sort(out_.parameters);
    sort(out_.lacking);
    return fault_;
  }

  std::optional<ExpressionFault> path_alone() {
    alone_ = true;
    path();
    if (!fault_ && now().kind != Kind::end) fail(now().offset, "a need is a path without conditions");
    return fault_;
  }

 private:
  // --- words ---
  [[nodiscard]] const XpathWord& now() const { return words_[at_]; }
  [[nodiscard]] const XpathWord& next() const { return words_[std::min(at_ + 1, words_.size() - 1)]; }
  const XpathWord& take() {
    const XpathWord& word = words_[at_];
    if (at_ + 1 < words_.size()) ++at_;
    return word;
  }
  bool take_mark(std::string_view mark) {
    if (fault_ || !now().is(mark)) return false;
    take();
    return true;
  }
  void expect(std::string_view mark) {
    if (!fault_ && !take_mark(mark)) fail(now().offset, fmt::format("a {} is missing here", quoted(mark)));
  }
  Operand fail(std::size_t offset, std::string message) {
    if (!fault_) fault_ = ExpressionFault{offset, std::move(message)};
    at_ = words_.size() - 1;
    return {};
  }
  Operand unexpected() {
    const XpathWord& word = now();
    return fail(word.offset, unexpected_fault(word, at_ > 0 ? &words_[at_ - 1] : nullptr));
  }

  // --- operators, from the loosest ---
  Operand any() {
    if (++depth_ > deepest) return fail(now().offset, "this is nested too deeply");
    const Operand out = either();
    --depth_;
    return out;
  }

  Operand either() {
    Operand left = both();
    while (!fault_ && now().is_operator("or")) left = logic(left, &Checker::both);
    return left;
  }
  Operand both() {
    Operand left = equality();
    while (!fault_ && now().is_operator("and")) left = logic(left, &Checker::equality);
    return left;
  }
  Operand logic(const Operand& left, Operand (Checker::*more)()) {
    take();
    as_truth(left);
    const Operand right = (this->*more)();
    as_truth(right);
    Operand out;
    out.from = left.from;
    out.one_makes = left.one_makes ? left.one_makes : right.one_makes;
    out.one_breaks = left.one_breaks ? left.one_breaks : right.one_breaks;
    return out;
  }

  Operand equality() {
    Operand left = relation();
    while (!fault_ && (now().is("=") || now().is("!="))) {
      take();
      left = compared(left, relation(), false);
    }
    return left;
  }
  Operand relation() {
    Operand left = sum();
    while (!fault_ && (now().is("<") || now().is("<=") || now().is(">") || now().is(">="))) {
      take();
      left = compared(left, sum(), true);
    }
    return left;
  }

  Operand sum() {
    Operand left = product();
    while (!fault_ && now().follows_operand && (now().is("+") || now().is("-"))) {
      take();
      const Operand right = product();
      if (!numbers(left, right)) return {};
      if (!alike(left, right)) return {};
      if (left.of_text || right.of_text) return refuse(reckoned_date_fault(left));
      const bool whole = left.exact == Exact::whole && right.exact == Exact::whole;
      left = made(left, left.literal ? right.holds : left.holds, whole ? Exact::whole : Exact::rough);
    }
    return left;
  }

  Operand product() {
    Operand left = negative();
    while (!fault_ && ((now().is("*") && now().follows_operand) || now().is_operator("div") ||
                       now().is_operator("mod"))) {
      const XpathWord& sign = take();
      const Operand right = negative();
      if (!numbers(left, right)) return {};
      if (sign.text == "*") {
        if (!is_plain(left.holds) && !is_plain(right.holds))
          return fail(sign.offset,
                      fmt::format("{} times {}: one of them must be a plain number, such as 0.8 and not 80 %",
                                  name_of(left), name_of(right)));
        const bool whole = left.exact == Exact::whole && right.exact == Exact::whole;
        left =
            made(left, is_plain(left.holds) ? right.holds : left.holds, whole ? Exact::whole : Exact::rough);
        continue;
      }
      Holds holds = left.holds;
      if (sign.text == "mod") {
        if (!alike(left, right)) return {};
      } else if (!is_plain(right.holds)) {
        if (!alike(left, right)) return {};
        holds = {Form::number};
      }
      const bool whole = sign.text == "mod" && left.exact == Exact::whole && right.exact == Exact::whole;
      left = made(left, holds, whole ? Exact::whole : Exact::rough);
      guard(left.from, sign);
    }
    return left;
  }

  Operand negative() {
    if (!fault_ && now().is("-")) {
      const std::size_t from = take().offset;
      if (++depth_ > deepest) return fail(from, "this is nested too deeply");
      const Operand of = negative();
      --depth_;
      if (!fault_ && of.is != Operand::Is::number)
        return fail(of.from, fmt::format("{} cannot be negative", name_of(of)));
      Operand out = made(of, of.holds, of.exact);
      out.from = from;
      return out;
    }
    return primary();
  }

  Operand primary() {
    if (fault_) return {};
    const XpathWord& word = now();
    if (word.kind == Kind::number) {
      take();
      Operand out;
      out.is = Operand::Is::number;
      out.holds = {Form::number};
      out.exact = word.text.find('.') == std::string_view::npos ? Exact::whole : Exact::decimal;
      out.literal = true;
      out.word = word.text;
      out.from = word.offset;
      if (begins_unit(now())) return fail(word.offset, with_unit_fault(word, now()));
      return out;
    }
    if (word.kind == Kind::text) {
      take();
      Operand out;
      out.is = Operand::Is::text;
      out.literal = true;
      out.word = word.text;
      out.from = word.offset;
      return out;
    }
    if (word.kind == Kind::variable) return variable(take());
    if (word.is("(")) {
      const std::size_t from = take().offset;
      Operand inner = any();
      expect(")");
      inner.from = from;
      if (!fault_ && (now().is("[") || now().is("/")))
        return fail(now().offset, "a path cannot go on behind brackets");
      return inner;
    }
    if (word.kind == Kind::name && next().is("(")) return function();
    return path();
  }

  Operand variable(const XpathWord& word) {
    const Parameter* p = names_.parameter(word.text);
    if (p == nullptr) {
      return fail(word.offset, fmt::format("the ruleset has no parameter {}{}", quoted(word.text),
                                           suggestion(word.text, names_.parameters)));
    }
    out_.parameters.emplace_back(word.text);
    const Operand out = operand_of(*p, word.offset);
    if (out.is == Operand::Is::number && out.holds.form != Form::number &&
        (p->value.count > facts::largest_exact || p->value.count < -facts::largest_exact))
      return fail(word.offset,
                  fmt::format("parameter {} is too large to be compared exactly", quoted(p->name)));
    return out;
  }

  // --- functions ---
  Operand function() {
    const XpathWord name = take();
    const XpathFunction* known = xpath_function(name.text);
    if (known == nullptr) {
      return fail(name.offset, function_fault(name.text));
    }
    take();
    const bool counts = name.text == "count";
    std::vector<Operand> arguments;
    if (!now().is(")")) {
      do {
        counting_ = counts;
        arguments.push_back(any());
        counting_ = false;
      } while (take_mark(","));
    }
    expect(")");
    if (fault_) return {};
    if (arguments.size() < known->least || arguments.size() > known->most) {
      return fail(name.offset, known->most > known->least
                                   ? fmt::format("{}() takes at least {} arguments", name.text, known->least)
                                   : fmt::format("{}() takes {} argument{}", name.text, known->least,
                                                 known->least == 1 ? "" : "s"));
    }
    return called(name, arguments);
  }

  Operand called(const XpathWord& name, const std::vector<Operand>& arguments) {
    Operand out;
    out.from = name.offset;
    if (name.text == "true" || name.text == "false") return out;
    const Operand& first = arguments.front();
    if (name.text == "not" || name.text == "boolean") {
      as_truth(first);
      out.one_makes = name.text == "not" ? first.one_breaks : first.one_makes;
      out.one_breaks = name.text == "not" ? first.one_makes : first.one_breaks;
      return out;
    }
    if (name.text == "count") {
      if (first.is != Operand::Is::elements)
        return fail(first.from, "count() counts elements, such as count(support)");
      return number_of({Form::count}, Exact::whole, name.offset);
    }
    if (name.text == "sum") {
      if (first.is != Operand::Is::number || !first.path)
        return fail(first.from, "sum() adds a number of elements, such as sum(raceway/@length)");
      return number_of(first.holds, first.exact == Exact::whole ? Exact::whole : Exact::rough, name.offset);
    }
    if (name.text == "round" || name.text == "floor" || name.text == "ceiling") {
      if (first.is != Operand::Is::number)
        return fail(first.from, fmt::format("{} is no number", name_of(first)));
      if (first.many) return several(first);
      if (name.text == "round" && is_plain(first.holds) && first.exact != Exact::whole)
        return fail(name.offset,
                    "round() takes less than a half away from a number of pieces; write ceiling() or "
                    "floor(), whichever is on the safe side");
      return number_of(first.holds, Exact::whole, name.offset);
    }
    for (const Operand& each : arguments) {
      if (each.is != Operand::Is::text)
        return fail(each.from, fmt::format("{}() takes a text, and this is {}", name.text, name_of(each)));
      if (each.many) return several(each);
    }
    if (name.text == "number") {
      out = number_of({Form::number}, Exact::decimal, name.offset);
      out.of_text = true;
      guard(name.offset, name);
      return out;
    }
    if (name.text == "string-length") return number_of({Form::count}, Exact::whole, name.offset);
    if (name.text != "contains" && name.text != "starts-with") out.is = Operand::Is::text;
    return out;
  }

  // --- paths ---
  Operand path() {
    if (fault_) return {};
    const std::size_t from = now().offset;
    if (now().is("/") || now().is("//")) {
      return fail(
          from, "a path begins at the subject of the rule: / and // would look through all of the document");
    }
    Way way{context_, reads_, way_, from, false, false, {}};
    const bool counting = std::exchange(counting_, false);
    while (true) {
      bool attribute = take_mark("@");
      if (!attribute && now().kind == Kind::axis) {
        const XpathWord& axis = take();
        attribute = axis.text == "attribute";
        if (!attribute && axis.text != "child") {
          return fail(axis.offset,
                      fmt::format("the axis {} is not allowed: a rule sees its subject and what stands "
                                  "in it",
                                  axis.text));
        }
      }
      if (fault_) return {};
      if (now().is("..") || now().is(".")) {
        return fail(
            now().offset,
            fmt::format("{} is not allowed: a rule sees its subject and what stands in it", now().text));
      }
      if (now().is("*")) return fail(now().offset, "* is not allowed; name what is meant");
      if (now().kind != Kind::name) return unexpected();
      const XpathWord name = take();
      if (now().is("(") || now().is(":"))
        return fail(name.offset,
                    fmt::format("{} is not allowed here; name what is meant", quoted(name.text)));
      if (attribute) return fact(name, way);
      const bool figures = name.text == "figures" && !way.shape->figures.empty();
      const ChildRow* row = way.shape->child(name.text);
      if (figures || name.text == "stated" || (row != nullptr && row->from == facts::From::stated)) {
        if (name.text == "fact" || !take_mark("/") || !take_mark("@")) {
          return fail(now().offset, figures ? "a figure is written as figures/@name"
                                            : "a fact that the ruleset declares is written as stated/@name");
        }
        if (now().kind != Kind::name) return unexpected();
        return figures ? figure(take(), way) : stated(take(), way);
      }
      if (row == nullptr) return fail(name.offset, child_fault(*way.shape, name.text, now().is("/")));
      way.names = way.to(name.text);
      Reads::Part& part = part_of(*way.reads, *row);
      way.passed.push_back(&part);
      if (may_lack(way.names)) part.needed = false;
      if (row->from == facts::From::attests && part.needed)
        return fail(name.offset, "what is not attested is not known; name " + quoted(way.names) +
                                     " in may-lack, where its absence is a statement");
      const bool is_end = row->from == facts::From::ends &&
                          names_a_side({words_.begin() + static_cast<std::ptrdiff_t>(at_), words_.end()});
      way.many = way.many || (row->many && !is_end);
      way.any = way.any || row->from == facts::From::attests;
      way.shape = row->shape;
      way.reads = &part.of;
      if (alone_ && now().is("[")) return fail(now().offset, "a need is a path without conditions");
      while (take_mark("[")) condition(*way.shape, *way.reads, way.names);
      if (fault_) return {};
      if (now().is("//"))
        return fail(now().offset, "// is not allowed: it would look through all that stands in it");
      if (!take_mark("/")) break;
    }
    Operand out;
    if (counting && way.shape->fact("count") != nullptr)
      return fail(from, "an element stands for as many alike as its count says; write sum(" + way.names +
                            "/@count), with the conditions in it");
    out.is = Operand::Is::elements;
    out.many = way.many;
    out.from = from;
    out.absent = counting || std::all_of(way.passed.begin(), way.passed.end(),
                                         [](const Reads::Part* p) { return p->row->complete || !p->needed; });
    return out;
  }

  /// How a path came to where it is.
  struct Way {
    const Shape* shape = nullptr;
    Reads* reads = nullptr;
    std::string names;
    std::size_t from = 0;
    bool many = false;
    bool any = false;
    std::vector<Reads::Part*> passed;

    [[nodiscard]] std::string to(std::string_view last) const {
      return names.empty() ? std::string(last) : names + "/" + std::string(last);
    }
  };

  /// What a path ends with is read; answers whether it may be absent.
  template <class Item, class What>
  bool ends_with(std::vector<Item>& items, What Item::*what, What own, const Way& way,
                 const std::string& last) {
    const bool lacking = may_lack(way.to(last));
    if (std::none_of(items.begin(), items.end(), [&](const Item& i) { return i.*what == own; }))
      items.push_back({own, !lacking});
    for (Reads::Part* part : way.passed) part->some_fact = true;
    return lacking;
  }

  Operand fact(const XpathWord& name, const Way& way) {
    const Shape& shape = *way.shape;
    const FactRow* row = shape.fact(name.text);
    if (row == nullptr) {
      if (shape.figure(name.text) != nullptr)
        return fail(name.offset,
                    fmt::format("{} is a figure; write figures/@{}", quoted(name.text), name.text));
      return fail(name.offset, fmt::format("{} has no fact {}{}", with_article(shape.name), quoted(name.text),
                                           suggestion(name.text, names_of(shape.facts))));
    }
    if (now().is("[") || now().is("/")) return fail(now().offset, "nothing stands in a fact");
    const bool lacking =
        ends_with(way.reads->facts, &Reads::Fact::row, row, way, "@" + std::string(name.text));
    Operand out = path_to(row->holds, way.from, way.many, lacking);
    out.any = way.any;
    return out;
  }

  Operand figure(const XpathWord& name, const Way& way) {
    const figure::Info* info = way.shape->figure(name.text);
    if (info == nullptr) return fail(name.offset, figure_fault(*way.shape, name.text));
    const bool lacking =
        ends_with(way.reads->figures, &Reads::Figure::info, info, way, "figures/@" + std::string(name.text));
    Operand out = path_to(facts::holds_of(info->unit), way.from, way.many, lacking);
    // Of pure numbers only ratios have decimals.
    if (out.holds.form == Form::number && info->name.find("ratio") != std::string_view::npos)
      out.exact = Exact::decimal;
    return out;
  }

  Operand stated(const XpathWord& name, const Way& way) {
    const DeclaredFact* declared = names_.fact ? names_.fact(name.text) : nullptr;
    if (declared == nullptr)
      return fail(name.offset, fmt::format("the ruleset declares no fact {}{}", quoted(name.text),
                                           suggestion(name.text, names_.facts)));
    if (!way.shape->is_stated_of || declared->of != way.shape->subject)
      return fail(name.offset, fmt::format("fact {} is of each {}, and this is a {}", quoted(name.text),
                                           raceward::name_of(declared->of), way.shape->name));
    const bool lacking = ends_with(way.reads->stated, &Reads::Stated::fact, declared, way,
                                   "stated/@" + std::string(name.text));
    Operand out = path_to(facts::holds_of(*declared), way.from, way.many, lacking);
    out.stated = declared;
    if (out.holds.form == Form::number) out.exact = Exact::decimal;
    return out;
  }

  static Reads::Part& part_of(Reads& reads, const ChildRow& row) {
    for (Reads::Part& part : reads.parts) {
      if (part.row == &row) return part;
    }
    return reads.parts.emplace_back(Reads::Part{&row, true, false, {}});
  }

  void condition(const Shape& shape, Reads& reads, const std::string& way) {
    // Parts of the same element must not move while it is read: it is read aside.
    Reads own;
    const Shape* const context = std::exchange(context_, &shape);
    Reads* const before = std::exchange(reads_, &own);
    const std::string way_before = std::exchange(way_, way);
    ++conditions_;
    const Operand all = any();
    --conditions_;
    way_ = way_before;
    reads_ = before;
    context_ = context;
    if (!fault_ && all.is == Operand::Is::number)
      fail(all.from,
           "elements are not counted off: their order in the file means nothing; say which is meant");
    as_truth(all);
    expect("]");
    reads.add(own);
  }

  bool may_lack(const std::string& way) {
    if (std::find(names_.may_lack.begin(), names_.may_lack.end(), way) == names_.may_lack.end()) return false;
    out_.lacking.push_back(way);
    return true;
  }

  static Operand made(const Operand& left, const Holds& holds, Exact exact) {
    return number_of(holds, exact, left.from);
  }
  Operand several(const Operand& o) { return refuse(several_fault(o)); }
  void rough(const Operand& o) { refuse(rough_fault(o)); }
  Operand refuse(std::optional<ExpressionFault> fault) {
    return fault ? fail(fault->offset, std::move(fault->message)) : Operand{};
  }

  bool numbers(const Operand& a, const Operand& b) {
    for (const Operand* each : {&a, &b}) {
      if (fault_) return false;
      if (each->is != Operand::Is::number) {
        fail(each->from, fmt::format("{} is no number to reckon with", name_of(*each)));
      } else if (each->many) {
        several(*each);
      }
    }
    return !fault_;
  }

  bool alike(const Operand& a, const Operand& b) {
    if (!fault_) refuse(unlike_fault(a, b));
    return !fault_;
  }
  Operand compared(const Operand& a, const Operand& b, bool ordered) {
    if (!fault_) refuse(comparison_fault(a, b, ordered));
    Operand out;
    out.from = a.from;
    if ((a.many && !a.any) || (b.many && !b.any)) out.one_makes = a.many ? a.from : b.from;
    for (const Operand* each : {&a, &b}) {  // truths: either may stand for its opposite
      const auto one = each->one_makes ? each->one_makes : each->one_breaks;
      if (one) out.one_makes = out.one_breaks = one;
    }
    return out;
  }
  void as_truth(const Operand& o) {
    if (!fault_) refuse(truth_fault(o));
  }

  /// What the sign or the function makes must come to a number.
  void guard(std::size_t from, const XpathWord& sign) {
    if (fault_) return;
    if (conditions_ > 0) {
      fail(sign.offset, fmt::format("{} is not allowed within [ ]", quoted(sign.text)));
      return;
    }
    const std::size_t end = now().kind == Kind::end ? text_.size() : now().offset;
    std::string_view part = text_.substr(from, end - from);
    while (!part.empty() && part.back() == ' ') part.remove_suffix(1);
    out_.guards.emplace_back(part);
  }

  std::string_view text_;
  const Names& names_;
  Expression& out_;
  std::vector<XpathWord> words_;
  std::size_t at_ = 0;
  int depth_ = 0;
  int conditions_ = 0;     // within so many [ ]
  bool alone_ = false;     // a path and nothing else is read
  bool counting_ = false;  // the next path is what count() counts
  const Shape* context_ = nullptr;
  Reads* reads_ = nullptr;
  std::string way_;  // to the context from the subject
  std::optional<ExpressionFault> fault_;
};

}  // namespace

std::optional<ExpressionFault> check_expression(std::string_view text, Gives gives, const Names& names,
                                                Expression& out) {
  return Checker(text, names, out).expression(gives);
}

std::optional<ExpressionFault> check_path(std::string_view text, const Names& names, Reads& out) {
  Expression made;
  auto fault = Checker(text, names, made).path_alone();
  out.add(made.reads);
  return fault;
}

}  // namespace raceward::ruleset
