package micro

// Constants of the kinetics that are not printed as such in a source: shaped by
// the literature named beside them and calibrated in this project. Each carries
// its unit and the factor or range within which it is known.
const (
	gasR   = 8.314 // J/mol/K
	gasCal = 1.987 // cal/mol/K

	// Carbon of the austenite at the moment the last ferrite goes, in spheroidized
	// stock, whatever the temperature: 0.55–0.60 wt % (molinder-1956, abstract).
	molinderC = 0.57

	// Half times of the change to austenite 20 K above Ae1 [s], factor 3 (roberts-mehl-1943, from memory).
	halfFine     = 3.0   // from fine pearlite, bainite, martensite
	halfSpheroid = 60.0  // from spheroidite of plain steel
	halfChromium = 200.0 // from spheroidite with 1.5 Cr

	// Dissolution time of spheroids, plain carbon: 90 s at 800 °C for 0.5 µm, factor 2 (own calibration).
	dissolveTime   = 90.0
	dissolveT      = 800 + kelvin
	dissolveRadius = 0.5 // µm

	// Mean path of nucleation sites when new austenite forms [µm] (own calibration on the trade's cycling practice).
	pathCoarse, pathPearlite, pathMartensite, pathSpheroid = 15.0, 8.0, 5.0, 8.0

	// Pearlite follows Avrami's law with exponent 2.5, which starts at a fifth of its half
	// time, nearer to diagrams of plain steel (a quarter to a third: atlas of isothermal
	// diagrams, from memory) than the tenth of li-1998.
	pearliteN = 2.5

	// Worth of the surface of undissolved carbide beside that of the grains where pearlite
	// nucleates (own calibration, factor 3, on W-type rounds together with O1 in oil).
	pearliteOnCarbide = 0.05

	// The factor of pearlite in plain eutectoid steel of fine grain, against which that of
	// others tells how alloy drags the divorced eutectoid.
	pearlitePlain = 1.2

	// Bainite takes over from pearlite between these [K] (common practice; own calibration).
	pearliteWhole, pearliteGone = 470 + kelvin, 400 + kelvin

	// Slope of Acm, by which supersaturation counts as undercooling [wt %/K].
	acmSlope = 0.0033

	// What the ferrite of bainite without carbide holds [wt %].
	ferriteCarbon = 0.03

	// Bainite of high-carbon steel counts its undercooling from this far below Bs [K]:
	// in plain steel pearlite takes what lies between (own calibration, ±30 K).
	bainiteLower = 60.0

	bainiteQ    = 27000.0 // cal/mol
	bainiteC    = -7.64   // constant of ln F above 0.55 wt % C
	bainiteSlow = 0.5     // ln of what Li's bainite is slowed by under 0.45 wt % C

	// Mean carbide radius of stock as delivered [µm] (common practice: annealed tool steel at 200x–1000x).
	annealedRadius = 0.45
)
