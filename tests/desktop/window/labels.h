// SPDX-License-Identifier: MIT
// The words on the window that the tests look for.
#pragma once

#include <array>
#include <string>

namespace potshadow::bench::labels {

inline const std::string kOpenPhoto = "Open a photograph";
inline const std::string kOpenProject = "Open a project";
inline const std::string kOpenSample = "Open the sample";
inline const std::string kRecover = "Take it up again";
inline const std::string kDiscard = "Discard it";

// The browser for files.
inline const std::string kPath = "Path";
inline const std::string kOpen = "Open";
inline const std::string kSaveHere = "Save";
inline const std::string kFileName = "File name";

// The steps, as on the strip.
inline const std::array<std::string, 9> kSteps{"Photo", "Reference", "Outline", "Sizes",  "Clay",
                                               "Plan",  "Templates", "Check",   "Compare"};

inline const std::string kFindPhoto = "Find the photograph";
inline const std::string kAddPhotograph = "Add a photograph";
inline const std::string kTakeOut = "Take this one out";
inline const std::string kSeenFrom = "Seen from";
inline const std::string kHiddenFoot = "The foot can't be seen (stand or mount)";
inline const std::string kFootAtLeast = "Pot seen from, at least";
inline const std::string kFootAtMost = "Pot seen from, at most";
inline const std::string kHiddenRim = "The rim is broken or can't be seen";
inline const std::string kName = "Name of the vessel";
inline const std::string kBehindGlass = "Behind glass";
inline const std::string kRectangle = "Rectangle";
inline const std::string kWidth = "Width";
inline const std::string kHeight = "Height";
inline const std::string kLeaning = "Leaning back";
inline const std::string kAddReference = "Add a reference";
inline const std::string kKnownLength = "Known length";
inline const std::string kNeighbour = "The pot beside it";
inline const std::string kKnownSize = "A size of the pot itself";
inline const std::string kLength = "Length";
inline const std::string kValue = "It is";
inline const std::string kWhichSize = "Which size";
inline const std::string kGuess = "A guess";
inline const std::string kBeside = "Held beside the vessel";
inline const std::string kOnGlass = "Flat against the glass";
inline const std::string kShelfLine = "Mark the shelf line";
inline const std::string kTiles = "A tile floor or wall";
inline const std::string kPitch = "From joint to joint";
inline const std::string kTilesAcross = "Tiles across";
inline const std::string kLying = "Lying on the shelf";
inline const std::string kMarkBlock = "Mark the block's corners";
inline const std::string kMarkCrossings = "Mark further crossings";
inline const std::string kByNumbers = "Add one by its numbers";
inline const std::string kNewColumn = "New column";
inline const std::string kNewRow = "New row";
inline const std::string kPutIn = "Put it in";
inline const std::string kRow = "Row";
inline const std::string kTakeCrossingOut = "Take this crossing out";
inline const std::string kMarkEnds = "Mark its ends";
inline const std::string kSetOntoEdges = "Set them onto its edges";
inline const std::string kMarkCorners = "Mark its corners";
inline const std::string kRim = "Rim";
inline const std::string kFoot = "Foot";
inline const std::string kLeft = "Left side";
inline const std::string kRight = "Right side";
inline const std::string kFindOutline = "Find the outline";
inline const std::string kPaintVessel = "Paint vessel";
inline const std::string kPaintAway = "Paint away";
inline const std::string kRubOut = "Rub out";
inline const std::string kRemoveFound = "Remove what was found";
inline const std::string kShrinkage = "Shrinkage, of the wet length";
inline const std::string kSaveTemplate = "Save PDF";
inline const std::string kWhatToMake = "What to make";
inline const std::string kForStage = "For the pot when it is";
inline const std::string kRepeats = "Repeats round the pot";
inline const std::string kPaperSize = "Size";
inline const std::string kWayUp = "Way up";
inline const std::string kMeasurePrinter = "Measure a printer";
inline const std::string kPrinterName = "Printer's name";
inline const std::string kBarAcross = "Bar across";
inline const std::string kBarAlong = "Bar along";
inline const std::string kKeepPrinter = "Keep this printer";
inline const std::string kTemplatePage = "Template page";

// The page of the Clay step.
inline const std::string kWhichClay = "Which clay";
inline const std::string kStagesPage = "Sizes at each stage";
inline const std::string kBookPage = "Book of clays";
inline const std::string kNewClay = "What you call it";
inline const std::string kBeginClay = "Begin it";
inline const std::string kAddBar = "Add a bar";
inline const std::string kBarWet = "Marks wet";
inline const std::string kBarDry = "Bone-dry";
inline const std::string kBarFired = "Fired";
inline const std::string kUseClay = "Use it for this pot";
inline const std::string kAllClays = "< All clays";
inline const std::string kRemoveClay = "Take it out of the book";
inline const std::string kExportClay = "Save it to a file";
inline const std::string kImportClays = "Take in clays from a file";

inline const std::string kStatedFold = "What its maker states";
inline const std::string kStatedInAll = "Shrinks in all, of the wet length";
inline const std::string kStatedWithin = "In all within ±";
inline const std::string kStatedDensity = "Density, wet";

// The Plan step.
inline const std::string kWallFoot = "At the foot";
inline const std::string kCoil = "Coil, as rolled";
inline const std::string kCradleLine = "Cradle's line";

inline const std::string kSaveBenchSheet = "Save bench sheet";
inline const std::string kAddBand = "Add a band";
inline const std::string kBandsAt = "Painted on the pot when it is";

// The Check step.
inline const std::string kPotIs = "The pot is";
inline const std::string kFiredStage = "Fired";
inline const std::string kWetStage = "Wet";
inline const std::string kUsePotPhoto = "Use a photograph of it";
inline const std::string kKeepSizes = "Keep these sizes";

// The Compare step.
inline const std::string kChooseOtherPot = "Choose the other pot";
inline const std::string kOpenIs = "The open project is";
inline const std::string kTheReplica = "The replica";
inline const std::string kReplicaIs = "The replica was measured";
inline const std::string kLeaveOut = "Leave it out";
inline const std::string kAddOnePot = "Add one more pot";
inline const std::string kComparedAt = "Compared as they are when";
inline const std::string kSaveComparison = "Save the sheet";
inline const std::string kSaveDrawing = "Save the drawing";
inline const std::string kSavePicture = "Save the picture";
inline const std::string kTellRecord = "Tell the clay's record";

// How a settings file begins.
inline const std::string kSettingsStart = R"({"potshadow_settings": 1, )";

// Keys.
inline const std::string kFitKey = "0";

// The question before unsaved work is left.
inline const std::string kSaveAndLeave = "Save";
inline const std::string kLeaveUnsaved = "Leave without saving";
inline const std::string kStay = "Stay";

}  // namespace potshadow::bench::labels
