using Acquire.Bench.Books;
using Acquire.Storage.Records;

namespace Acquire.Demo;

/// <summary>What a filled data folder holds, and the commands to look at it with.</summary>
internal static class InventedTermSummary
{
    /// <summary>Writes it.</summary>
    public static async Task WriteAsync(Surroundings surroundings, string folder, CancellationToken cancellationToken)
    {
        await using var store = await AcquireStore.OpenAsync(folder, surroundings.Time, cancellationToken);
        var strips = await store.ListStripsAsync(StripFilter.All, cancellationToken).ToListAsync(cancellationToken);
        var books = await new DarkroomBooks(store, surroundings.Time).OpenAsync(cancellationToken);
        var rechecks = 0;
        var lots = await store.ListLotsAsync(cancellationToken);
        foreach (var lot in lots)
        {
            rechecks += (await store.ListRechecksAsync(lot.Code, cancellationToken)).Count;
        }

        var (first, last) = (Day(strips[0].Provenance.At), Day(strips[^1].Provenance.At));
        var console = surroundings.Out;
        console.Line($"An invented term of a community college's darkroom, {first} to {last}, is in {folder}:");
        console.Line($"  {strips.Count} strips of {lots.Count} lots, {strips.Sum(s => s.Patches.Sum(p => p.Reads.Length))} reads");
        console.Line($"  {(await store.ListChecksAsync(cancellationToken)).Count} calibration checks, "
            + $"{(await store.ListRepeatabilityTestsAsync(cancellationToken)).Count} repeatability tests, {rechecks} rechecks of "
                + $"reference strips");
        console.Line($"  {books.Lines.Count()} lines, {books.Solutions.Count()} mixes in {books.Bottles.Count()} bottles and tanks, "
            + $"{books.Uses.Count(u => u.StripId is null)} times film, {books.Events.Count()} events");
        console.Line("");
        console.Line("Look at it:");
        foreach (var command in new[]
        {
            "strip list", $"chart --line \"{books.Lines.First().Name}\"", "bottle list --all", "event list",
            $"lot crossover {lots[0].Code} {lots[^1].Code}", "check list", "repeatability list",
        })
        {
            console.Line($"  acquire {command} --data {(folder.Contains(' ', StringComparison.Ordinal) ? $"\"{folder}\"" : folder)}");
        }

        string Day(DateTimeOffset at) => Numbers.Day(TimeZoneInfo.ConvertTime(at, surroundings.Time.LocalTimeZone));
    }
}
