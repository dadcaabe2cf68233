// Bytes to installation: read strictly, build, join, derive.
#include "document/load.hpp"

#include <algorithm>
#include <atomic>

#include "document/builder.hpp"
#include "document/parallel.hpp"
#include "document/read.hpp"
#include "document/words.hpp"
#include "installation/derived.hpp"

namespace raceward {
namespace document {
namespace {

using installation::Model;

class Loading final : public Taker {
 public:
  Loading(Model& model, Faults& faults) : model_(model), faults_(faults), builder_(model, built_) {}

  // False where nothing could be made of the file. `bytes` are those of model, without the padding.
  bool run(std::string_view bytes, unsigned threads) {
    // What was built of a file that proves malformed is forgotten with its faults.
    if (!read(bytes, {model_.line_starts, model_.texts, faults_}, *this, threads,
              [this] { return builder_.touch_ahead(); }))
      return false;
    if (ours_) builder_.finish(threads);
    faults_.append(std::move(built_));
    return ours_ && builder_.can_derive();
  }
  void root(Written& written) override { ours_ = builder_.root(written); }
  void children(Written& written) override {
    if (ours_) builder_.children(written);
  }

 private:
  Model& model_;
  Faults& faults_;
  Faults built_;
  Builder builder_;
  bool ours_ = false;
};

/// Routes and sections stand on the graph alone, not on each other.
void derive(Installation& made, unsigned threads) {
  constexpr std::size_t large = 4096;  // raceways that are worth a thread
  made.graph = installation::build_graph(made.model);
  std::atomic<bool> routing = false, cutting = false;
  on_threads(threads == 1 || made.model.raceways.size() < large ? 1 : std::min(machine_threads(), 2U), [&] {
    if (!routing.exchange(true)) made.routes = installation::derive_routes(made.model, made.graph);
    if (!cutting.exchange(true)) made.sections = installation::derive_sections(made.model, made.graph);
  });
}

}  // namespace

Loaded load(installation::Bytes bytes, std::string name, unsigned threads) {
  Loaded loaded;
  if (bytes.size() > most_bytes) {
    loaded.problems.push_back({{std::move(name), 0, 0}, too_large});
    return loaded;
  }
  auto* const made = new Installation;
  InstallationPtr installation(made);
  made->model.file = std::move(name);
  made->model.bytes = std::move(bytes);
  Faults faults;
  if (Loading(made->model, faults).run(made->model.bytes, threads)) {
    derive(*made, threads);
    report_routes(made->model, made->routes, faults);
    if (faults.empty()) {
      loaded.installation = std::move(installation);
      return loaded;
    }
  }
  loaded.problems = std::move(faults).problems(made->model.file, made->model.line_starts);
  return loaded;
}

}  // namespace document

void InstallationDeleter::operator()(const Installation* installation) const { delete installation; }

Loaded load_bytes(std::string_view bytes, std::string name, unsigned threads) {
  std::string copy;
  copy.reserve(bytes.size() + loading_room);
  copy.append(bytes);
  return document::load(installation::Bytes(std::move(copy)), std::move(name), threads);
}

Loaded load_moved(std::string&& bytes, std::string name, unsigned threads) {
  return document::load(installation::Bytes(std::move(bytes)), std::move(name), threads);
}

std::string_view adopted_ruleset(const Installation& installation) { return installation.model.ruleset; }

Place where_ruleset_is_adopted(const Installation& installation) {
  const installation::Model& model = installation.model;
  const installation::LineColumn at =
      installation::locate(model, installation::locate_attribute(model, model.source, "ruleset"));
  return {model.file, at.line, at.column};
}

}  // namespace raceward
