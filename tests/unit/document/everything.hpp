// A document with every element and every attribute of the vocabulary (schema_test holds it complete).
#pragma once

#include <string>
#include <string_view>

namespace raceward::document::test {

inline std::string document_of_everything() {
  return R"(<installation xmlns="urn:raceward:installation:1" id="shed" name="Tool shed" ruleset="nec-2023" occupancy="farm" permit-date="2026-03-01">
<area id="A1" name="studio" use="workshop" location="damp" damage="severe" corrosive="no" ambient="86F" ambient-low="-5C" sunlit="yes"
  finished="no" sink="yes" vehicle-bays="3" outlets-complete="yes"/>
<panel id="P1" name="main" area="A1" rating="100A" voltage="240V" spaces="20" material="metal" mounting="surface"
  grounded-by="feeder" accessible="yes" covered="no" directory="yes" neutral-bonded="no" main="60A" working-depth="36in" working-width="30in"
  working-height="78in" opposite="grounded" width="14in" height="30in" depth="4in" mounting-height="5ft" highest-handle="6ft" at="1ft -2ft 0in" fed-by="W1"
  neutrals-one-each="no" building="other" devices-complete="no" only-circuit="yes" emergency-disconnect="yes" emergency-disconnect-marked="no" circuits="24" unused-openings-closed="no" disconnect="ahead" disconnect-rating="60A" electrode="ring" electrode-size="4 AWG" electrode-material="copper"
  ring-size="2 AWG" supply-size="1/0 AWG" supply-parallel="2" supply-material="aluminum" supply-grounded-size="2 AWG" calculated-load="88A" floor-square-feet="1500" floor-use="store">
  <overcurrent-device id="P1-1" rating="20A" poles="2" kind="fuse" characteristic="BS-88-3" ground-fault="class-a" arc-fault="yes" handle-tie="t1" spaces="2" wires-per-terminal="2" terminals-made-for="3" time-delay="yes" lockable="no" half-space="yes"/>
  <overcurrent-device id="P1-2"/>
</panel>
<box id="B1" name="wheel" area="A1" kind="square" size="4 x 2-1/8" gangs="2" material="nonmetallic" mounting="flush"
  accessible="no" covered="yes" internal-clamps="yes" grounded-by="none" volume="30.3in3" width="4in" height="5in"
  depth="2.125in" canopy-wires="3" wire-connectors="5" listed-wet="yes" listed-bonding="no" marked-for-conductors="no" free-conductor="7in" free-conductor-outside="4in" finish="combustible" unused-openings-closed="yes"
  mounting-height="4ft" setback="0in" divided="yes" at="2ft 2ft 2ft">
  <ring kind="extension" volume="4.5in3" width="4in" height="4in" depth="1in"/>
  <spacing between="R1 R2" distance="14in"/>
  <cover kind="weatherproof" volume="5in3" width="5in" height="3in" depth="2in" in-use="no" listed-for-grounding="no"/>
  <support-fitting kind="hickey"/>
</box>
<conduit-body id="L1" name="corner" area="A1" form="LB" trade-size="3/4" volume="7in3" cross-section="1.2in2" width="2in" height="6in" marked-for-conductors="yes" material="metal"
  accessible="yes" covered="yes" grounded-by="raceway" mounting="surface" at="0m 0m 0m"><spacing between="R2 R3" distance="3in"/></conduit-body>
<equipment id="K1" name="front loader" area="A1" kind="kiln" mounting="surface" material="metal" grounded-by="wire" load="40A" voltage="240V" power="9.6kW" continuous="yes"
  horsepower="1-1/2" appliance="yes" minimum-ampacity="13A" maximum-overcurrent="30A" overload="relay" overload-setting="11.5A" service-factor="1.15"
  duty-cycle="30%" effective-current="17A" windings="three-wire" secondary-protected="no" neutral-bonded="yes" jumper-size="4 AWG" jumper-material="copper" electrode="ring" electrode-size="6 AWG" electrode-material="aluminum" ring-size="2 AWG" disconnect-in-sight="yes" accessible="yes" covered="yes" mounting-height="1ft" at="3ft 3ft 3ft"/>
<joint id="J1" name="to flexible" area="A1" at="3ft 2ft 1ft" fitting="combination-coupling" raintight="yes" trade-size="1-1/4" material="metal"/>
<equipment id="K2" plugged-into="D1"/>
<raceway id="R1" name="first" type="EMT" trade-size="3/4" from="P1" to="B1" area="A1" no-fastening-point="yes"
  threaded-couplings="no" vertical-riser="no" flexibility-needed="no" ceiling-whip="yes" fished="no" accepted-unfastened="yes" reamed="yes" unbroken="no"
  listed-for-grounding="yes" moves-after-installation="no" in-earth="yes" burial-depth="18in" beneath="driveway" above-roof="0in" damage="none"
  corrosion-protected="yes" listed-for-place="no" listed-for-heat="no" divided="no" material="aluminum" width="3in" height="2in">
  <end place="B1" fitting="locknut" knockout="eccentric" listed="yes" raintight="no" tight="no" bonded="yes" wall="front" row="2"/>
  <straight length="36in"/>
  <bend angle="90deg" radius="4.5in" bender="one-shot" length="7in"/>
  <support at="2ft" kind="strap" fastened-to="stud"/>
  <offset angle="10deg" rise="1/2in" radius="4in" bender="factory" length="5in"/>
  <saddle bends="3" angle="45deg" outer-angle="22.5deg" rise="2in" radius="5in" bender="other" length="12in"/>
  <coupling fitting="set-screw-coupling" raintight="no" length="0in"/>
  <expansion fitting="expansion-coupling" length="6in"/>
</raceway>
<raceway id="R2" from="B1" to="L1"><point at="0ft 0ft 0ft"/><point at="1ft 2ft 3ft" radius="6in" bender="one-shot"/></raceway>
<raceway id="R3" from="L1" to="K1" length="3m" supports="none"/>
<circuit id="C1" name="feeder" kind="feeder" serves="laundry" whole-dwelling="no" protected-by="P1-1" voltage="240V" voltage-to-ground="120V" load="30A" continuous="no" nonlinear="yes" multiwire="yes" least-size="8 AWG" neutral-load="21A" terminal-temperature="75C" power-factor="0.85" parallel="2" loop-impedance="0.87ohm" grouped="yes">
  <run conductors="h k"><stop place="K1" conductors="terminated"/><stop place="B1" via="R3 R2" conductors="looped" grounding="spliced" grounded-pigtailed="no" bonded="yes"/></run>
  <conductor id="h" role="ungrounded" size="6 AWG" material="copper" insulation="THHN/THWN-2" construction="stranded" color="black" count="2"/>
  <conductor id="k" cable="yes" diameter="0.5in"/>
  <conductor id="i" role="equipment-grounding" size="6 AWG" isolated="yes" loaded="no" of-cable="k"/>
  <run conductors="i"><stop place="B1"/><stop place="P1"/></run>
</circuit>
<wiring id="W1" name="bell" system="class-2" system-voltage="24V" system-voltage-to-ground="12V" marked-terminals="60C" nonlinear="no"><conductor id="h" role="control" size="6 AWG" material="copper" insulation="THWN-2/THHN" construction="stranded"/><run><stop place="P1"/><stop place="B1"/></run></wiring>
<device id="D1" name="outlet" kind="receptacle" box="B1" circuit="C1 W1" rating="20A" voltage="125V" gangs="2" yokes="3" gang="1" terminals="screw"
  conductor-size="12 AWG" grounded-by="self-grounding" ground-fault="equipment" arc-fault="no" tamper-resistant="yes"
  weather-resistant="no" isolated-ground="yes" fed-from-load-of="D2" depth="1.6in" height="18in"
  fed-from-line="no" receptacles="2" wires-per-terminal="2" terminals-made-for="3" countertop="no" sink-distance="7ft" dedicated="yes" beside-load="yes" horsepower="2" load="12A"/>
<device id="D2" kind="switch" box="P1"/>
<bonding-jumper id="X1" from="P1" to="B1" raceway="R1" size="8 AWG" material="copper" supply-side="yes"
  routing="along" length="2ft"/>
<attest fact="ends-reamed" of="R1" by="the installer" on="2026-05-01"/>
<fact name="storeys" of="A1" value="2"/>
<waiver rule="support-spacing" of="R1" authority="the inspector" reason="the beam is in the way" on="0001-01-01"
  until="9999-12-31" accepts="13ft"/>
</installation>
)";
}

}  // namespace raceward::document::test
