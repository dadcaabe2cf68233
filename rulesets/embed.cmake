# Writes FILES (relative to ROOT) as a C++ source of byte arrays. Called at build time.
set(arrays "")
set(rows "")
set(n 0)
foreach(file IN LISTS FILES)
  file(READ ${ROOT}/${file} hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${hex}")
  string(APPEND arrays "constexpr char file_${n}[] = {${bytes}'\\0'};\n")
  string(APPEND rows "    {\"${file}\", {file_${n}, sizeof(file_${n}) - 1}},\n")
  math(EXPR n "${n} + 1")
endforeach()
file(WRITE ${OUT} "// Generated from rulesets/ by embed.cmake. Do not edit.
#include \"ruleset/embedded.hpp\"

namespace raceward::ruleset {

namespace {
${arrays}
constexpr EmbeddedFile files[] = {
${rows}};
}  // namespace

std::span<const EmbeddedFile> embedded_files() { return files; }

}  // namespace raceward::ruleset
")
