package sim

// SignName is the stable name of a sign.
type SignName string

// The signs. Times of a zone are those of its center of mass.
const (
	ShadowSeen       SignName = "shadow_seen"    // the zone holds back: a tenth of it has turned to austenite
	ShadowGone       SignName = "shadow_gone"    // nine tenths have
	MagnetLetsGo     SignName = "magnet_lets_go" // pull under a tenth of cold ferrite's, on heating
	MagnetReturns    SignName = "magnet_returns" // pull over a tenth again, on cooling
	CarbonInSolution SignName = "carbon_in_solution"
	LatestForOil     SignName = "latest_for_oil"    // latest entry that leaves under 5 % pearlite at the edge
	JacketCollapses  SignName = "jacket_collapses"  // the vapor film breaks down
	BelowNose        SignName = "below_nose"        // colder than the pearlite nose with austenite left
	WindowOpens      SignName = "window_opens"      // past the nose and above martensite: out of the bath into still air, to be straightened
	WindowCloses     SignName = "window_closes"     // in that air a tenth of a zone has become martensite: stop
	MartensiteStarts SignName = "martensite_starts" // the first hundredth
	HandWarm         SignName = "hand_warm"         // the hottest zone is below 50 °C: into the temper
	EdgeStraw        SignName = "edge_straw"        // oxide film as thick as pale straw
	AtHeat           SignName = "at_heat"           // every zone within 10 K of the oven: the clock starts
	HotUntil         SignName = "hot_until"         // the hottest zone is below 43 °C: black-hot until then
)
