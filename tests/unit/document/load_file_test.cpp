// Files: what cannot be opened, and that nothing depends on where the bytes come from.
#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <thread>

#include "loading.hpp"

namespace raceward::document::test {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;

class LoadFile : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_); }
  void TearDown() override { fs::remove_all(folder_); }
  std::string write(std::string_view name, std::string_view bytes) {
    const fs::path path = folder_ / name;
    std::ofstream(path, std::ios::binary) << bytes;
    return path.string();
  }
  const fs::path folder_ =
      fs::path(testing::TempDir()) /
      ("raceward-load-" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
};

TEST_F(LoadFile, ThatIsNotThere) {
  const std::string path = (folder_ / "nothing.xml").string();
  const Loaded loaded = load_file(path);
  EXPECT_THAT(lines_of(loaded), ElementsAre("the file cannot be opened: No such file or directory"));
  EXPECT_EQ(text_of(loaded.problems.at(0)), path + ": the file cannot be opened: No such file or directory");
}

TEST_F(LoadFile, ThatIsADirectory) {
  EXPECT_THAT(lines_of(load_file(folder_.string())), ElementsAre("this is a directory; name a file"));
  EXPECT_FALSE(lines_of(load_file("")).empty());
}

// Large files are read by two threads side by side.
TEST_F(LoadFile, ThatIsLargeAsOneThatIsSmall) {
  std::string text = R"(<installation xmlns="urn:raceward:installation:1" id="large">)";
  while (text.size() < (std::size_t{20} << 20)) text += "<!-- " + std::to_string(text.size()) + " -->\n";
  const std::string good = text + "<area id=\"A1\"/></installation>",
                    bad = text + "<area idd=\"A1\"/></installation>";
  for (const unsigned threads : {1U, 2U}) {
    EXPECT_NE(load_file(write("good.xml", good), threads).installation, nullptr);
    EXPECT_EQ(lines_of(load_file(write("bad.xml", bad), threads)), lines_of(load_bytes(bad, "bad.xml")));
  }
}

TEST_F(LoadFile, ThatIsEmpty) {
  EXPECT_THAT(lines_of(load_file(write("empty.xml", ""))),
              ElementsAre("1:1: the file is empty; a document is one <installation>"));
}

TEST_F(LoadFile, ThatIsADevice) {
  EXPECT_THAT(lines_of(load_file("/dev/zero")), ElementsAre("this is a device; name a file"));
}

// Whoever may read everything puts that right aside for this test.
TEST_F(LoadFile, ThatMayNotBeRead) {
  const std::string path = write("secret.xml", document_of(""));
  fs::permissions(folder_, fs::perms::owner_all | fs::perms::others_exec | fs::perms::group_exec);
  fs::permissions(path, fs::perms::none);
  const bool reads_everything = ::geteuid() == 0;
  if (reads_everything && ::seteuid(65534) != 0) GTEST_SKIP() << "nobody else to be here";
  const Loaded loaded = load_file(path);
  ASSERT_TRUE(!reads_everything || ::seteuid(0) == 0);
  EXPECT_THAT(lines_of(loaded), ElementsAre("the file cannot be opened: Permission denied"));
}

TEST_F(LoadFile, ThatIsLargerThanPlacesCanBe) {
  const std::string path = write("large.xml", document_of(""));
  fs::resize_file(path, std::uintmax_t{5} << 30);  // holes; no disk is used, and nothing is read
  EXPECT_THAT(lines_of(load_file(path)), ElementsAre("the file is larger than 4 GB; divide it"));
}

// A file that opens and whose bytes cannot be had, whoever asks: the memory of this process from address 0.
TEST_F(LoadFile, ThatCannotBeRead) {
  EXPECT_THAT(lines_of(load_file("/proc/self/mem")),
              ElementsAre("the file cannot be read: Input/output error"));
}

TEST_F(LoadFile, ThatIsAPipe) {
  const std::string path = (folder_ / "pipe").string();
  ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
  std::string text = document_of("<area id=\"A1\"/>\n");
  text.append(std::size_t{1} << 20, ' ');  // more than a pipe holds at a time
  std::thread writer([&] { std::ofstream(path, std::ios::binary) << text; });
  const Loaded loaded = load_file(path);
  writer.join();
  ASSERT_TRUE(loaded.installation);
  EXPECT_EQ(loaded.installation->model.areas.at(0).id, "A1");
}

TEST_F(LoadFile, GivesWhatItsBytesGive) {
  const std::string text = document_of("<area id=\"A1\" name=\"shop &amp; store\"/>\n");
  const std::string path = write("good.xml", text);
  const Loaded loaded = load_file(path);
  ASSERT_TRUE(loaded.installation);
  EXPECT_EQ(loaded.installation->model.file, path);
  EXPECT_EQ(loaded.installation->model.areas.at(0).name, "shop & store");
  EXPECT_EQ(installation_id(*loaded.installation), "shed");
  EXPECT_EQ(adopted_ruleset(*loaded.installation), "");
  std::ifstream in(path, std::ios::binary);
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(in), {}), text) << "the file itself is left alone";
}

TEST_F(LoadFile, OfManySizesAroundABlock) {
  const std::string text = document_of("<area id=\"A1\"/>\n");
  for (const std::size_t size : {std::size_t{1} << 18, std::size_t{1} << 19}) {
    for (int more = -1; more <= 1; ++more) {
      std::string padded = text;
      padded.append(size + static_cast<std::size_t>(more + 1) - 1 - text.size(), ' ');
      EXPECT_TRUE(load_file(write("padded.xml", padded)).installation) << size << more;
    }
  }
}

TEST(LoadBytes, LeavesTheBytesAloneAndNeedsThemNoLonger) {
  std::string text = document_of("<area id=\"A1\" name=\"&lt;\"/>\n");
  const std::string before = text;
  const Loaded loaded = load_bytes(text, "a.xml");
  EXPECT_EQ(text, before);
  text.assign(text.size(), 'x');
  ASSERT_TRUE(loaded.installation);
  EXPECT_EQ(loaded.installation->model.areas.at(0).name, "<");
  EXPECT_EQ(loaded.installation->model.id, "shed");
}

TEST(LoadBytes, RootsOfEverySize) {
  for (const std::size_t size : {0U, 1U, 100U, 5000U, 1'000'000U}) {
    const std::string name(size, 'n');
    const auto in =
        load_good("<installation name=\"" + name + "\" xmlns=\"urn:raceward:installation:1\" id=\"x\" " +
                  "ruleset=\"nec-2023\" occupancy=\"farm\"><area id=\"A1\"/></installation>");
    ASSERT_TRUE(in);
    EXPECT_EQ(in->model.name, name);
    EXPECT_EQ(adopted_ruleset(*in), "nec-2023");
    EXPECT_EQ(in->model.occupancy, installation::Occupancy::farm);
    EXPECT_EQ(in->model.areas.size(), 1U);
  }
  const auto alone = load_good("<installation id='x' xmlns='urn:raceward:installation:1'/>");
  ASSERT_TRUE(alone);
  EXPECT_EQ(alone->model.id, "x");
  EXPECT_TRUE(alone->model.places.empty());
}

TEST(LoadBytes, ProblemsAreSortedByPlace) {
  const Loaded loaded = load_bytes(document_of("<box id=\"B1\" area=\"A9\"/><box id=\"B1\" width=\"4\"/>\n"
                                               "<box id=\"B2\" area=\"A8\" kind=\"x\"/>"),
                                   "a.xml");
  ASSERT_GT(loaded.problems.size(), 3U);
  for (std::size_t i = 1; i < loaded.problems.size(); ++i) {
    const Place &a = loaded.problems[i - 1].place, &b = loaded.problems[i].place;
    EXPECT_LE(std::pair(a.line, a.column), std::pair(b.line, b.column));
  }
}

}  // namespace
}  // namespace raceward::document::test
