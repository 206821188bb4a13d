namespace Acquire.Tests.Support;

/// <summary>
/// The season of the evening class with its books: two mixes of developer in turn in the dip tank, and a repair. Invented numbers.
/// </summary>
internal static class DarkroomSeason
{
    public const int Strips = 24;

    /// <summary>The morning after the last strip.</summary>
    public static readonly DateTimeOffset After = ChartHistory.Start.AddDays((Strips - 1) * 3).AddHours(13);

    /// <summary>Fills a data folder.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="strips">The strips.</param>
    /// <param name="cancellationToken">Cancels.</param>
    /// <param name="mix">Name of the second mix.</param>
    /// <param name="happened">What was repaired.</param>
    public static async Task FillAsync(
        string folder, IReadOnlyCollection<StripRecord> strips,
        CancellationToken cancellationToken, string mix = "dev 13", string happened = "pump bearing changed")
    {
        await ChartHistory.FillAsync(folder, strips, cancellationToken);
        await using var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        await store.AddBookEntriesAsync([.. Entries(mix, happened)], cancellationToken);
    }

    /// <summary>A later strip like another, but with every patch moved by so much; read with a device profile, or entered.</summary>
    public static StripRecord Moved(StripRecord strip, decimal off, DateTimeOffset at, string? profile = null)
    {
        var patches = strip.Patches.Select(p => new PatchReads(p.Patch, [.. p.Reads.Select(r => new PatchRead(Reading.Entered(
            ChannelDensities.Rgb(
                r.Reading.Densities.Red!.Value.Value + off,
                r.Reading.Densities.Green!.Value.Value + off,
                r.Reading.Densities.Blue!.Value.Value + off), at)))])).ToImmutableArray();
        return new StripRecord(
            Guid.CreateVersion7(at), strip.LotCode, strip.Layout, strip.JudgedBy, patches, PatchMeans.Of(patches), strip.Aims,
            new Provenance(at, strip.Provenance.By, profile is null ? null : new InstrumentInUse(profile, "", "file:reads.csv")),
            Revision.First(strip.Provenance.By, at, "read"))
        {
            Tags = strip.Tags,
        };
    }

    private static IEnumerable<BookEntry> Entries(string mix, string happened)
    {
        var line = new ProcessLine(Stamp(-9), "dip tank", LineKind.DipTank, "c41");
        var (first, second) = (new Solution(Stamp(-2), "dev 12", SolutionKind.Developer, "c41", 1),
            new Solution(Stamp(34), mix, SolutionKind.Developer, "c41", 1));
        var (d7, d8) = (new Bottle(Stamp(-1), "D7", first.Id, 1, new BottleStorage("glass", 1)),
            new Bottle(Stamp(35), "D8", second.Id, 1, new BottleStorage("glass", 1)));
        yield return line;
        yield return new LineMethod(Stamp(-8), line.Id, "lift every 15 s", 37.8, TimeSpan.FromSeconds(195));
        yield return first;
        yield return d7;
        yield return second;
        yield return d8;
        yield return new BottleEvent(Stamp(35.2), d7.Id, BottleEventKind.Discarded);
        yield return new BookEvent(Stamp(17), BookEventKind.Repair, happened);
        for (var day = 2; day < Strips * 3; day += 6)
        {
            yield return new FilmUse(Stamp(day), [FilmCount.Of(FilmFormat.Find("135-36")!, 2)], [day < 35 ? d7.Id : d8.Id], line.Id);
        }
    }

    private static EntryStamp Stamp(double day) => new(
        Guid.CreateVersion7(ChartHistory.Start.AddDays(day)), ChartHistory.Start.AddDays(day), ChartHistory.Start.AddDays(100), "staff");
}
