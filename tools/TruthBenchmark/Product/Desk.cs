using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Bench.History;
using Acquire.Bench.Strips;
using TruthBenchmark.World;

namespace TruthBenchmark.Product;

/// <summary>
/// The product as it stands before the papers of one house: whatever it says of a strip or a history is asked here, so that the claims know
/// nothing of its classes. The claims see a strip by its number in the house.
/// </summary>
internal sealed class Desk
{
    private readonly TestsInForce _tests;
    private readonly Dictionary<string, LotPast> _lots;
    private readonly Ledger _books;
    private readonly ProcessSheet _sheet;
    private readonly bool _ofTable;
    private readonly StripRecord?[] _records;
    private readonly StripPoint?[] _points;
    private StripJudging? _judging;
    private readonly Dictionary<DateTimeOffset, int> _numbers;

    /// <param name="house">The papers.</param>
    /// <param name="history">Whether only histories are asked for, of which nothing asks for the costly verdict on a spread.</param>
    /// <param name="ofTable">Whether strips and reference came as a table has them, without their instrument.</param>
    public Desk(House house, bool history = false, bool ofTable = false)
    {
        (House, _ofTable) = (house, ofTable);
        _sheet = history ? Records.SheetOfHistories : Records.Sheet;
        _tests = Records.Tests(house);
        _lots = house.Lots.Select((l, i) => Records.Lot(l, i, _tests, ofTable)).ToDictionary(l => l.Lot.Code);
        _books = Records.Books(house);
        _records = new StripRecord?[house.Strips.Length];
        _points = new StripPoint?[house.Strips.Length];
        _numbers = house.Strips.Select((s, i) => (s.At, i)).DistinctBy(s => s.At).ToDictionary();
    }

    public House House { get; }

    public StripRecord Record(int strip) =>
        _records[strip] ??= Records.Strip(House.Strips[strip], strip, _sheet, _lots[House.Strips[strip].Lot], _tests, _ofTable);

    /// <summary>A strip as a point of the history of its house.</summary>
    public StripPoint Point(int strip) =>
        _points[strip] ??= StripHistory.PointOf(Record(strip), Judging, _books, TimeProvider.System);

    public ImmutableArray<StripPoint> Points(int? first = null) =>
        [.. Enumerable.Range(0, first ?? House.Strips.Length).Select(Point)];

    /// <summary>Number of the strip that ran at a moment.</summary>
    public int Number(DateTimeOffset at) => _numbers[at];

    public ImmutableArray<Aim> Aims(string lot) => _lots[lot].Newest.Aims;

    /// <summary>What a store would know of the instrument: all that was read in the house.</summary>
    public StripJudging Judging => _judging ??= Judge();

    private StripJudging Judge()
    {
        ImmutableArray<StripRecord> strips = [.. Enumerable.Range(0, House.Strips.Length).Select(Record)];
        return StripJudging.By(new InstrumentPast(
            _tests.All, _lots.Values.Select(l => l.Newest.Reference!), [], [],
            strips.SelectMany(s => PatchRepeats.Of(s.Means).Select(r => new StripRepeats(s.Provenance.Instrument?.Profile, 0, r))))
        {
            Days = [.. ThinnestPatch.Of(strips)],
        });
    }
}
