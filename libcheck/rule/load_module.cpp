// Compiled modules from disk: only files that somebody named, or that stand in a folder that somebody named.
#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>

#include "rule/child.hpp"
#include "rule/compiled_module.hpp"

#ifdef RACEWARD_MODULES
#include <dlfcn.h>
#ifdef __GLIBC__
#include <link.h>
#endif
#endif

namespace raceward {

namespace {

using namespace rule;

#ifdef RACEWARD_MODULES

/// What the system says of it, without the path that it begins with.
std::string last_error(const std::string& path) {
  const char* const said = dlerror();
  std::string text = said != nullptr ? said : "the system does not say why";
  if (text.starts_with(path + ": ")) text.erase(0, path.size() + 2);
  return text;
}

/// Bytes that a symbol has; where that cannot be known, as many as one may want.
std::size_t room_of(const void* symbol) {
#ifdef __GLIBC__
  Dl_info info;
  void* entry = nullptr;
  if (dladdr1(symbol, &info, &entry, RTLD_DL_SYMENT) != 0 && entry != nullptr && info.dli_saddr == symbol) {
    const auto& found = *static_cast<const ElfW(Sym)*>(entry);
    // A function of that name is no entry.
    return (found.st_info & 0xf) == STT_OBJECT ? found.st_size : 0;
  }
#endif
  return symbol != nullptr ? SIZE_MAX : 0;
}

/// What stands at the head of a library tells what it was built for; ours stands in memory. Empty where it
/// fits, or cannot be told: the system's own words for it lead astray.
std::string other_build([[maybe_unused]] const std::string& path) {
#ifdef __GLIBC__
  ElfW(Ehdr) theirs;
  std::ifstream in(path, std::ios::binary);
  if (!in.read(reinterpret_cast<char*>(&theirs), sizeof(theirs)) ||
      std::memcmp(theirs.e_ident, ELFMAG, SELFMAG) != 0)
    return "it is no compiled library";
  Dl_info us;
  if (dladdr(reinterpret_cast<const void*>(&other_build), &us) == 0) return {};
  const auto& ours = *static_cast<const ElfW(Ehdr)*>(us.dli_fbase);
  if (std::memcmp(ours.e_ident, theirs.e_ident, EI_VERSION) != 0 || ours.e_machine != theirs.e_machine)
    return "it was built for another kind of machine";
#endif
  return {};
}

ReadModule open_module(const std::string& file) {
  // With a path that is whole the system looks nowhere else.
  const std::string path = std::filesystem::absolute(file).string();
  if (std::string other = other_build(path); !other.empty()) return {nullptr, {std::move(other)}};
  // Never closed: its functions and texts stay where they are.
  void* const library = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL | RTLD_NODELETE);
  if (library == nullptr) return {nullptr, {"it cannot be loaded: " + last_error(path)}};
  const void* const entry = dlsym(library, "raceward_entry");
  if (entry == nullptr) return {nullptr, {"it is no module of Raceward: it has no raceward_entry"}};
  return read_module(*static_cast<const raceward_module*>(entry), room_of(entry), file);
}

#else

ReadModule open_module(const std::string&) {
  return {nullptr, {"this build of Raceward cannot load modules"}};
}

#endif

/// What stands in the way before anything is loaded; empty where nothing does.
std::string no_file(const std::string& file) {
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (status.type() == std::filesystem::file_type::not_found) return "there is no such file";
  if (std::filesystem::is_directory(status))
    return "it is a folder; name a file in it, or the folder as such";
  if (!std::filesystem::is_regular_file(status)) return "it is no file";
  return {};
}

Problem problem(const std::string& file, std::string what) { return {{file, 0, 0}, std::move(what)}; }

}  // namespace

LoadedModules load_module(const std::string& file, unsigned trial) {
  LoadedModules out;
  std::string wrong = file.find('\0') != std::string::npos ? "there is no such file" : no_file(file);
  if (wrong.empty() && trial > 0) {
    const Tried tried = in_child([&](Progress&) { open_module(file); }, trial);
    if (!tried.wrong.empty()) wrong = "while it was loaded, " + tried.wrong;
  }
  ReadModule read;
  if (wrong.empty()) {
    read = open_module(file);
  } else {
    read.problems = {std::move(wrong)};
  }
  if (read.module) out.modules.push_back(std::move(read.module));
  for (std::string& what : read.problems) out.problems.push_back(problem(file, std::move(what)));
  return out;
}

LoadedModules load_modules(const std::string& folder, unsigned trial) {
  std::vector<std::string> files;
  std::error_code error;
  std::filesystem::directory_iterator at(folder, error);
  for (; !error && at != std::filesystem::directory_iterator(); at.increment(error)) {
    if (at->path().extension() == ".so") files.push_back(at->path().string());
  }
  LoadedModules out;
  if (error) out.problems.push_back(problem(folder, "the folder cannot be read"));
  if (!error && files.empty()) out.problems.push_back(problem(folder, "no module (*.so) is in this folder"));
  std::sort(files.begin(), files.end());
  for (const std::string& file : files) {
    LoadedModules one = load_module(file, trial);
    std::move(one.modules.begin(), one.modules.end(), std::back_inserter(out.modules));
    std::move(one.problems.begin(), one.problems.end(), std::back_inserter(out.problems));
  }
  return out;
}

const ModuleInfo& info_of(const Module& module) { return module.info; }

std::vector<const Rule*> rules_of(const Module& module) {
  std::vector<const Rule*> out;
  for (const Rule& rule : module.rules) out.push_back(&rule);
  return out;
}

const ModuleInfo* origin_of(const Rule& rule) {
  return rule.compiled == nullptr ? nullptr : &rule.compiled->module();
}

}  // namespace raceward
