namespace Acquire.Analysis.Gauge;

/// <summary>Reads of the same patches by several persons, on several instruments, or both: each by each, equally often.</summary>
public sealed record CrossedData
{
    private const string Both = "person with instrument";

    private static readonly ImmutableArray<string> Appraisers = ["person", "instrument"];

    private CrossedData(ImmutableArray<string> factors, ImmutableArray<CrossedRead> reads, ImmutableArray<string> notes) =>
        (Factors, Reads, Notes) = (factors, reads, notes);

    /// <summary><c>patch</c> first, then whatever else there are several of.</summary>
    public ImmutableArray<string> Factors { get; }

    public ImmutableArray<CrossedRead> Reads { get; }

    /// <summary>What the user should know of how the reads were taken.</summary>
    public ImmutableArray<string> Notes { get; }

    /// <summary>How many different levels a factor has.</summary>
    public int LevelsOf(string factor) => Levels(Reads, factor).Count;

    /// <summary>The reads with the level of each factor, counted from 0, and the value in one channel.</summary>
    internal List<(ImmutableArray<int> Levels, double Value)> Of(Channel channel)
    {
        var levels = Factors.Select(f => Levels(Reads, f)).ToList();
        return
        [
            .. Reads.Select(r => (
                Factors.Select((f, i) => levels[i].FindIndex(l => Keys.Same(l, Level(r, f)))).ToImmutableArray(),
                (double)r.Values[channel])),
        ];
    }

    /// <summary>Collects reads.</summary>
    /// <returns>The reads; null where all are by one person on one instrument.</returns>
    /// <exception cref="GaugeException">Some reads say who or where and some do not, somebody did not read a patch as often as the others,
    /// a channel is missing, or reads were taken without placing the patch anew.</exception>
    public static CrossedData? Of(ImmutableArray<CrossedRead> reads)
    {
        var several = Appraisers.Where(f => Levels(reads, f).Count(l => l.Length > 0) > 1).ToList();
        if (several.Count == 0)
        {
            return null;
        }

        if (reads.FirstOrDefault(r => several.Any(f => Level(r, f).Length == 0)) is { } silent)
        {
            throw new GaugeException($"{silent.Place}: {several.First(f => Level(silent, f).Length == 0)} is empty; where several "
                + $"persons or "
                + "instruments read, every read says whose it is.");
        }

        ImmutableArray<string> notes = [];
        if (several.Count == 2 && Levels(reads, "person").Count == Levels(reads, Both).Count
            && Levels(reads, "instrument").Count == Levels(reads, Both).Count)
        {
            (several, notes) = ([Both], ["Each person read on an instrument of their own, so what the person and what the instrument adds "
                + "cannot be told apart; let everybody read on every instrument."]);
        }

        var data = new CrossedData(["patch", .. several], reads, notes);
        data.RefuseUnequal();
        return data;
    }

    // Unequal cells would make the mean squares depend on each other; every remedy for that is an approximation that few could check.
    private void RefuseUnequal()
    {
        if (LevelsOf("patch") < 2)
        {
            throw new GaugeException("All reads are of one patch; to tell persons or instruments apart, read two patches at least, better "
                + "five to ten, of different densities.");
        }

        if (Reads.GroupBy(r => (Cell(r).ToUpperInvariant(), r.Placement?.ToUpperInvariant()))
            .FirstOrDefault(g => g.Key.Item2 is not null && g.Count() > 1) is { } still)
        {
            throw new GaugeException($"{still.Last().Place}: placement {still.Last().Placement} of {Cell(still.Last())} has "
                + $"{Counted(still.Count())}; a study of persons or instruments takes one read of each placement.");
        }

        var channels = Reads[0].Values.Keys.Order().ToList();
        if (Reads.FirstOrDefault(r => !r.Values.Keys.Order().SequenceEqual(channels)) is { } odd)
        {
            throw new GaugeException($"{odd.Place}: this read has other channels than the first; every read needs the same.");
        }

        var counts = Reads.CountBy(Cell, StringComparer.OrdinalIgnoreCase).ToDictionary(StringComparer.OrdinalIgnoreCase);
        foreach (var cell in Cells())
        {
            var count = counts.GetValueOrDefault(cell);
            if (count < 2 || count != counts.Values.Max())
            {
                throw new GaugeException($"{cell}: {Counted(count)}, where others have {counts.Values.Max()}. Everybody reads every patch "
                    + "equally often, twice at least, on every instrument; read what is missing, or leave out what is too much.");
            }
        }
    }

    private IEnumerable<string> Cells() => Factors.Aggregate(
        (IEnumerable<string>)[""],
        (cells, f) => cells.SelectMany(c => Levels(Reads, f).Select(l => c.Length == 0 ? $"{f} {l}" : $"{c}, {f} {l}")));

    private string Cell(CrossedRead read) => string.Join(", ", Factors.Select(f => $"{f} {Level(read, f)}"));

    private static string Counted(int reads) => reads switch { 0 => "no read", 1 => "1 read", _ => $"{reads} reads" };

    private static List<string> Levels(ImmutableArray<CrossedRead> reads, string factor) =>
        [.. reads.Select(r => Level(r, factor)).Distinct(StringComparer.OrdinalIgnoreCase)];

    private static string Level(CrossedRead read, string factor) => factor switch
    {
        "patch" => read.Patch,
        "person" => read.Person ?? "",
        "instrument" => read.Instrument ?? "",
        _ => $"{read.Person} on {read.Instrument}",
    };
}

/// <summary>One read of one patch by somebody on some instrument.</summary>
/// <param name="Place">Where it stands, for errors.</param>
/// <param name="Person">Who read it; null when not told.</param>
/// <param name="Instrument">What it was read on; null when not told.</param>
/// <param name="Placement">The placement that it was read in; null where each read is one.</param>
/// <param name="Values">Value in each channel, with the decimals as shown.</param>
public sealed record CrossedRead(
    string Place, string Patch, string? Person, string? Instrument, string? Placement, ImmutableSortedDictionary<Channel, decimal> Values);
