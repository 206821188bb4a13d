namespace Acquire.Bench.Daily;

/// <summary>
/// Changes of a line after which a strip is due: training manuals run one after mixing, and after any repair or change.
/// </summary>
internal static class ProcessChanges
{
    /// <summary>Finds them in the books.</summary>
    /// <param name="books">The books.</param>
    /// <param name="processKey">The line's process.</param>
    /// <param name="line">The line; null for one that the books do not know: then what concerns one line only is left out.</param>
    /// <param name="now">The moment.</param>
    /// <param name="zone">The local offset, in which days are told.</param>
    public static ImmutableArray<ProcessChange> Of(
        Ledger books, string processKey, ProcessLine? line, DateTimeOffset now, TimeZoneInfo zone) =>
    [
        .. Mixes(books, processKey, line, now)
            .Concat(books.Events.Where(e => e.LineId is null || e.LineId == line?.Id).Select(e => Event(e)).OfType<ProcessChange>())
            .Concat(books.Standing.OfType<LineMethod>().Where(m => m.LineId == line?.Id).Select(
                m => new ProcessChange("the method was changed", m.HappenedAt)))
            .Where(c => c.At <= now)
            .Select(c => c with { At = TimeZoneInfo.ConvertTime(c.At, zone) }),
    ];

    private static IEnumerable<ProcessChange> Mixes(Ledger books, string processKey, ProcessLine? line, DateTimeOffset now)
    {
        var inUse = books.BottlesInUse(now).Select(b => books.At(b, now))
            .Where(s => string.Equals(s.Solution.ProcessKey, processKey, StringComparison.OrdinalIgnoreCase)
                && s.Solution.Kind != SolutionKind.FinalRinse && Concerns(books, s.Bottle, line));
        foreach (var kind in inUse.GroupBy(s => s.Solution.Kind))
        {
            // A closed bottle waits in reserve, unless there is no other.
            var opened = kind.Where(s => s.OpenedAt is not null).ToList();
            foreach (var mix in (opened.Count > 0 ? opened : [.. kind]).GroupBy(s => s.Solution.Id))
            {
                var first = mix.Min(s => s.OpenedAt ?? s.Bottle.HappenedAt);
                yield return new ProcessChange($"{mix.First().Solution.Name} came into use", first);
            }
        }
    }

    /// <summary>A bottle concerns a line unless it was only ever used in others.</summary>
    private static bool Concerns(Ledger books, Bottle bottle, ProcessLine? line)
    {
        var lines = books.Uses.Where(u => u.BottleIds.Contains(bottle.Id)).Select(u => u.LineId).OfType<Guid>().ToHashSet();
        return lines.Count == 0 || (line is not null && lines.Contains(line.Id));
    }

    private static ProcessChange? Event(BookEvent entry) => entry.Kind switch
    {
        BookEventKind.NewMix => new ProcessChange($"a new mix: {entry.Text}", entry.HappenedAt),
        BookEventKind.Repair => new ProcessChange($"a repair: {entry.Text}", entry.HappenedAt),
        BookEventKind.Temperature => new ProcessChange($"a change of temperature: {entry.Text}", entry.HappenedAt),
        _ => null,
    };
}
