// Subjects by id, in words, by place in the file, and counted.
#include <gtest/gtest.h>

#include <set>

#include "support/sketch.hpp"

namespace raceward::test {
namespace {

using namespace installation;

/// A panel, a joint and three boxes; one thing of every kind, with an offset of its own each.
class Describe : public testing::Test {
 protected:
  Describe() : s("P1 -R1- B1 -R2- B2 -R3- J1 -R4- B4; B4 -R5- L5; L5 -R6- K6") {
    Model& m = s.in.model;
    m.id = "studio";
    m.name = "Pottery studio";
    m.source = 1;
    m.areas.resize(1);
    m.areas[0].id = "A1";
    m.areas[0].source = 2;
    for (Index i = 0; i < m.places.size(); ++i) m.places[i].source = 100 + i;
    for (Index i = 0; i < m.raceways.size(); ++i) m.raceways[i].source = 200 + i;
    m.places[s.place("B4")].name = "glazing corner";
    m.places[s.place("K6")].equipment_kind = "kiln";
    m.raceways[s.raceway("R2")].name = "north wall";
    m.overcurrent_devices.resize(1);
    m.overcurrent_devices[0].id = "P1-1";
    m.overcurrent_devices[0].panel = s.place("P1");
    m.overcurrent_devices[0].source = 3;
    m.devices.resize(3);
    for (Index i = 0; i < 3; ++i) m.devices[i].source = 4 + i;
    m.devices[0].id = "D1";
    m.devices[0].kind = DeviceKind::receptacle;
    m.devices[0].box = s.place("B4");
    m.devices[1].id = "D2";
    m.devices[1].kind = DeviceKind::terminal_block;
    m.devices[1].name = "spare";
    m.devices[2].id = "D3";
    m.devices[2].kind = DeviceKind::other;
    s.run("P1 B1");
    s.run("P1 B2");
    m.circuits[0].name = "kiln";
    m.circuits[0].source = 7;
    m.circuits[1].kind = CircuitKind::other;
    m.circuits[1].id = "W1";
    m.circuits[1].source = 8;
    m.conductors[0].source = 9;
    m.conductors[1].source = 10;
    m.bonding_jumpers.resize(2);
    m.bonding_jumpers[0].id = "X1";
    m.bonding_jumpers[0].source = 11;
    m.bonding_jumpers[0].from = s.place("B1");
    m.bonding_jumpers[0].to = s.place("B2");
    m.bonding_jumpers[1].id = "X2";
    m.bonding_jumpers[1].source = 12;
    m.bonding_jumpers[1].from = s.place("B4");
    m.bonding_jumpers[1].raceway = s.raceway("R4");
    m.attestations.resize(1);
    m.attestations[0].fact = "ends-reamed";
    m.attestations[0].of = "R1";
    m.attestations[0].source = 13;
    s.derive();
  }

  std::string id(SubjectKind kind, Index i = 0) const { return id_of(s.in.model, s.in.sections, {kind, i}); }
  std::string words(SubjectKind kind, Index i = 0) const {
    return words_of(s.in.model, s.in.sections, {kind, i});
  }
  Offset offset(SubjectKind kind, Index i = 0) const {
    return offset_of(s.in.model, s.in.sections, {kind, i});
  }

  Sketch s;
};

TEST_F(Describe, Places) {
  EXPECT_EQ(words(SubjectKind::panel, s.place("P1")), "panel P1");
  EXPECT_EQ(words(SubjectKind::box, s.place("B4")), "box B4 (glazing corner)");
  EXPECT_EQ(words(SubjectKind::place, s.place("B4")), "box B4 (glazing corner)");
  EXPECT_EQ(words(SubjectKind::conduit_body, s.place("L5")), "conduit body L5");
  EXPECT_EQ(words(SubjectKind::equipment, s.place("K6")), "equipment K6 (kiln)");
  EXPECT_EQ(words(SubjectKind::joint, s.place("J1")), "joint J1");
  EXPECT_EQ(id(SubjectKind::box, s.place("B4")), "B4");
  EXPECT_EQ(offset(SubjectKind::box, s.place("B4")), 100 + s.place("B4"));
}

TEST_F(Describe, RacewaysWithTheirChain) {
  EXPECT_EQ(words(SubjectKind::raceway, s.raceway("R1")), "raceway R1, panel P1 to box B1");
  EXPECT_EQ(words(SubjectKind::raceway, s.raceway("R2")), "raceway R2 (north wall), box B1 to box B2");
  EXPECT_EQ(id(SubjectKind::raceway, s.raceway("R2")), "R2");
}

TEST_F(Describe, PullSections) {
  const Index section = s.in.sections.section_of[s.raceway("R4")];
  EXPECT_EQ(id(SubjectKind::pull_section, section), "R3+R4");
  EXPECT_EQ(words(SubjectKind::pull_section, section), "pull section R3+R4, box B2 to box B4");
  EXPECT_EQ(offset(SubjectKind::pull_section, section), s.in.model.raceways[s.raceway("R3")].source);
}

TEST(DescribeLong, PullSectionsAreShortenedInWordsOnly) {
  Sketch s("B1 -R1- J1 -R2- J2 -R3- J3 -R4- J4 -R5- B2");
  s.derive();
  const Subject section{SubjectKind::pull_section, 0};
  EXPECT_EQ(id_of(s.in.model, s.in.sections, section), "R1+R2+R3+R4+R5");
  EXPECT_EQ(words_of(s.in.model, s.in.sections, section),
            "pull section R1+R2+...+R5 (5 raceways), box B1 to box B2");
}

TEST(DescribeLong, PullSectionsThatBranchNameThePlace) {
  Sketch s("B1 -R1- L1! -R2- B2; L1 -R3- B3");
  s.derive();
  EXPECT_EQ(words_of(s.in.model, s.in.sections, {SubjectKind::pull_section, 0}),
            "pull section R1+R2+R3, with more than one way through conduit body L1");
}

TEST_F(Describe, ElectricalThings) {
  EXPECT_EQ(words(SubjectKind::overcurrent_device), "overcurrent device P1-1 in panel P1");
  EXPECT_EQ(words(SubjectKind::circuit, 0), "circuit C1 (kiln)");
  EXPECT_EQ(words(SubjectKind::circuit, 1), "wiring W1");
  EXPECT_EQ(words(SubjectKind::conductor, 0), "conductor h of circuit C1");
  EXPECT_EQ(words(SubjectKind::conductor, 1), "conductor h of wiring W1");
  EXPECT_EQ(id(SubjectKind::conductor, 0), "C1/h");
  EXPECT_EQ(words(SubjectKind::device, 0), "receptacle D1 in box B4");
  EXPECT_EQ(words(SubjectKind::device, 1), "terminal block D2 (spare)");
  EXPECT_EQ(words(SubjectKind::device, 2), "device D3");
  EXPECT_EQ(words(SubjectKind::bonding_jumper, 0), "bonding jumper X1, box B1 to box B2");
  EXPECT_EQ(words(SubjectKind::bonding_jumper, 1), "bonding jumper X2, box B4, around raceway R4");
}

TEST_F(Describe, TheDocumentAndWhatIsSaidOfIt) {
  EXPECT_EQ(words(SubjectKind::installation), "installation studio (Pottery studio)");
  EXPECT_EQ(id(SubjectKind::installation), "studio");
  EXPECT_EQ(words(SubjectKind::area), "area A1");
  EXPECT_EQ(id(SubjectKind::attestation), "ends-reamed/R1");
  EXPECT_EQ(words(SubjectKind::attestation), "statement ends-reamed of R1");
}

TEST_F(Describe, EverySubjectHasAnIdWordsAndAnOffset) {
  for (std::uint8_t k = 0; k < subject_kind_count; ++k) {
    const auto kind = static_cast<SubjectKind>(k);
    const auto subjects = subjects_of(s.in.model, s.in.sections, kind);
    EXPECT_EQ(subjects.size(), count_of(s.in.model, s.in.sections, kind)) << name_of(kind);
    EXPECT_FALSE(subjects.empty()) << name_of(kind);
    std::set<std::string> ids;
    for (const Subject& subject : subjects) {
      EXPECT_EQ(subject.kind, kind);
      ids.insert(id_of(s.in.model, s.in.sections, subject));
      EXPECT_FALSE(words_of(s.in.model, s.in.sections, subject).empty()) << name_of(kind);
      EXPECT_NE(offset_of(s.in.model, s.in.sections, subject), 0u) << name_of(kind);
    }
    EXPECT_EQ(ids.size(), subjects.size()) << name_of(kind);
    EXPECT_EQ(ids.count(""), 0u) << name_of(kind);
  }
}

TEST_F(Describe, PlacesAreListedByKindInDocumentOrder) {
  const auto boxes = subjects_of(s.in.model, s.in.sections, SubjectKind::box);
  ASSERT_EQ(boxes.size(), 3u);
  EXPECT_EQ(boxes[0].index, s.place("B1"));
  EXPECT_EQ(boxes[2].index, s.place("B4"));
  EXPECT_EQ(count_of(s.in.model, s.in.sections, SubjectKind::place), 7u);
  EXPECT_EQ(count_of(s.in.model, s.in.sections, SubjectKind::joint), 1u);
}

TEST(SubjectKinds, HaveNamesOfTheirOwn) {
  std::set<std::string_view> names;
  for (std::uint8_t k = 0; k < subject_kind_count; ++k) names.insert(name_of(static_cast<SubjectKind>(k)));
  EXPECT_EQ(names.size(), subject_kind_count);
  EXPECT_EQ(name_of(SubjectKind::pull_section), "pull section");
}

}  // namespace
}  // namespace raceward::test
