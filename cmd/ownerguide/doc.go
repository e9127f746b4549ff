// Command ownerguide makes one owner guide for each trailer that leaves the
// plant: it reads a build sheet, checks it against the product line, works out
// the figures of that unit and writes the guide as HTML and PDF.
//
// # Promises
//
// What is handed in is hostile until read. Each promise, and the test that holds it,
// in this package unless a path says otherwise:
//
//   - no sheet of the corpus in testdata/hostile panics, hangs or gets past its finding; no unit
//     takes more than 256 MiB (peak VmHWM of the built program, asked every 3 ms):
//     TestHostileSheetsAreRefusedByName, TestHugeSheets
//   - sheets have at most 1 MiB, files of a line or of templates 4 MiB, and one entry for each 64
//     bytes; all files of a line or of the templates 16 MiB: TestHugeSheets, TestHostileLines,
//     TestHostileTemplates
//   - text stays text: no markup, brace, Markdown or PDF syntax of a sheet brings an element or
//     attribute into a page: TestHostileTextStaysText, TestTextOfASheetStaysPlain
//   - a changed byte of a record is found, and a forged one leads nowhere; a bad unit is named and
//     hides none; a letter once delivered holds whatever is done to the folder; verify raises no
//     alarm beside a run: TestEveryChangedByteIsFound, TestForgedRecordsAreRefused in
//     render/record, TestBadUnitsAreNamedAndHideNone, TestVerifyFindsDamage,
//     TestDeliveredLetterHolds, TestVerifyBesideARun
//   - templates hold no program; what is huge, deep or in a circle is refused by name; a style
//     sheet fetches nothing and cannot end itself: TestHostileTemplates
//   - nothing from a file, a name, a record or the command line reaches the terminal with an
//     escape, a line break or a change of direction of its own: TestNothingReachesTheTerminalRaw;
//     nor is anything said past it: TestScripts
//   - no command writes over a file it reads, into line, words or a unit's folder, through a link,
//     or over a file that is not as the program wrote it; with --force only over the last:
//     TestNothingOfAUsersIsWrittenOver, TestOnlyDeliverWrites, and render/deliver/rules_test.go
//   - an order export has at most 16 MB, one million cells, 20,000 rows and 500 columns; a workbook
//     unfolds to at most 64 MB, four million elements nested 32 deep, and 1 MiB in one tag or text;
//     none of the small ones tried takes more than 256 MiB: TestHostileExports, and TestReadCSV,
//     TestUnsoundWorkbooks, TestElementsAreCounted in spec/begin
//   - no guide is made of a line or words that were not proved as they stand by this program; a
//     draft says on every page that it is one: TestProofBeforePrint, TestProofInTheCache,
//     TestEmbeddedIsProved, TestWatch
//   - no link in a folder leads outside it, no pipe or device keeps the program waiting:
//     TestFoldersWithLinksAndPipes, TestLinksInTheOutputFolderLeadNowhere in render/deliver
//   - a bug that one unit brings to light is one error about that unit, with exit code 1; the
//     others are done: TestPanicIsAboutOneUnit, spec/parallel
//   - a full disk, a read-only or vanished folder, two runs at once, a stop or a kill at any moment
//     leave whole guides and a clear error: TestDiskFull, TestOutputThatCannotBeWritten,
//     TestOutputFolderRemovedMidRun, TestTwoRunsAtOnce, TestInterruptedRun,
//     TestInterruptedWhileWaiting, TestKilledAtAnyMoment
//   - clock, age of files, time zone, language and processors change no byte:
//     TestNoClockOutsideTheCommandLine, TestClockSetBack, TestSameBytesOnEveryMachine
//   - no line or text keeps the program busy: mends, counts and the solver end at stated numbers of
//     steps (SolverSteps, CountSteps, maxLooks), which count work and not time, and the finding or
//     sentence says so: TestHardModels and TestStepsChangeNoAnswer in spec/logic,
//     TestPuzzlesForLines
//   - a page fetches nothing and runs only what its policy names by hash:
//     TestPagesKeepToTheirPolicy, and .ci/pages.mjs in a browser
//   - PDFs run and fetch nothing; every bookmark and link leads somewhere: .ci/papers.py
//   - whatever reads is fuzzed: .ci/fuzz 300x runs every target; crashers stay in testdata/fuzz
//   - the licence of everything in the program is in it: TestLicences
//
// Faults that need a mount are made as root; without it those tests skip by name,
// and fail with CI=true.
package main
