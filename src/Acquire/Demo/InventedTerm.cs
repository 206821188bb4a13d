using System.IO.Compression;
using System.Text.Json;
using System.Text.RegularExpressions;
using Acquire.Bench.Books;
using Acquire.Bench.Trust;
using Acquire.Storage.Records;

namespace Acquire.Demo;

/// <summary>
/// The rows of an invented term of a community college's darkroom, from the file that <c>tools/DemoTerm</c> makes. Nobody's real numbers.
/// The file's times are those of a clock at the college; they are put by whole days so that the term ends today or yesterday, and the clock
/// on the wall here shows what it showed there.
/// </summary>
internal sealed partial class InventedTerm
{
    /// <summary>The seed that the file was made with.</summary>
    public const int Seed = 41;

    private readonly TimeZoneInfo _here;
    private readonly int _days;

    private InventedTerm(IReadOnlyList<StoredRow> rows, TimeProvider time)
    {
        _here = time.LocalTimeZone;
        var now = TimeZoneInfo.ConvertTime(time.GetUtcNow(), _here).DateTime;
        var last = rows.SelectMany(r => r.Values.Values).OfType<string>().Where(t => Id().IsMatch(t)).Max(MadeAt);
        _days = (now.Date - last.Date).Days - (last.TimeOfDay > now.TimeOfDay ? 1 : 0);
    }

    /// <summary>The rows of the term as if it ended now.</summary>
    public static IReadOnlyList<StoredRow> EndingNow(TimeProvider time)
    {
        using var file = typeof(InventedTerm).Assembly.GetManifestResourceStream("Acquire.Demo.term.jsonl.gz")!;
        using var reader = new StreamReader(new GZipStream(file, CompressionMode.Decompress));
        var rows = new List<StoredRow>();
        while (reader.ReadLine() is { } line)
        {
            using var json = JsonDocument.Parse(line);
            var table = json.RootElement.EnumerateObject().Single();
            rows.Add(new StoredRow(table.Name, table.Value.EnumerateObject().ToDictionary(c => c.Name, c => Value(c.Value))));
        }

        var term = new InventedTerm(rows, time);
        return [.. rows.Select(
            r => r with { Values = r.Values.ToDictionary(v => v.Key, v => v.Value is string text ? term.Moved(text) : v.Value) })];
    }

    /// <summary>Fills a fresh data folder with the term, in one transaction; the seals are made here.</summary>
    /// <exception cref="BenchException">The folder has something in it, or is a file; nothing is touched.</exception>
    /// <exception cref="StoreException">The folder cannot be written.</exception>
    public static async Task FillAsync(string folder, TimeProvider time, CancellationToken cancellationToken)
    {
        if (File.Exists(folder))
        {
            throw new BenchException($"{folder} is a file; the demo's history needs a folder that is empty or not there yet.");
        }

        var isNew = !Directory.Exists(folder);
        if (!isNew && Directory.EnumerateFileSystemEntries(folder).Any())
        {
            throw new BenchException(
                $"{folder} has something in it, and nothing there is touched; name a folder that is empty or not there yet.");
        }

        try
        {
            await using (var store = await AcquireStore.OpenAsync(folder, time, cancellationToken))
            {
                await store.FillAsync(EndingNow(time), cancellationToken);
            }

            await new Settings(CheckRequirement.Mark).SaveAsync(folder, cancellationToken);
        }
        catch
        {
            Clear(folder, isNew);
            throw;
        }
    }

    /// <summary>An empty store is of no use; the folder was empty, so all in it is ours.</summary>
    private static void Clear(string folder, bool isNew)
    {
        if (!Directory.Exists(folder))
        {
            return;
        }

        foreach (var entry in new DirectoryInfo(folder).EnumerateFileSystemInfos())
        {
            if (entry is DirectoryInfo inner)
            {
                inner.Delete(recursive: true);
            }
            else
            {
                entry.Delete();
            }
        }

        if (isNew)
        {
            Directory.Delete(folder);
        }
    }

    private static object Value(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Object => value.GetProperty("base64").GetBytesFromBase64(),
        JsonValueKind.Number => value.TryGetInt64(out var whole) ? whole : value.GetDouble(),
        _ => value.GetString()!,
    };

    /// <summary>
    /// Times, days and the times in ids (RFC 9562, 5.7) are known by their form, which the store demands of them; other texts stay.
    /// </summary>
    private string Moved(string text)
    {
        // Wall time moves, not the instant: an evening class stays in the evening, whatever the zone and the season here.
        if (Moment().IsMatch(text))
        {
            return Written.Time(Here(AtCollege(text)));
        }

        if (Day().IsMatch(text))
        {
            return Numbers.Day(Written.Date(text)?.AddDays(_days));
        }

        if (Id().IsMatch(text))
        {
            var moved = Here(MadeAt(text)).ToUnixTimeMilliseconds().ToString("x12", CultureInfo.InvariantCulture);
            return $"{moved[..8]}-{moved[8..]}{text[13..]}";
        }

        return text;
    }

    private DateTimeOffset Here(DateTime atCollege)
    {
        var local = atCollege.AddDays(_days);
        return new DateTimeOffset(local, _here.GetUtcOffset(local)).ToUniversalTime();
    }

    /// <summary>The newest id tells when the last row was written; a row may tell of times to come, as when a check is due.</summary>
    private static DateTime MadeAt(string id) => DateTimeOffset.FromUnixTimeMilliseconds(
        long.Parse(id[..8] + id[9..13], NumberStyles.HexNumber, CultureInfo.InvariantCulture)).DateTime;

    private static DateTime AtCollege(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture).DateTime;

    [GeneratedRegex(@"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{7}\+00:00$")]
    private static partial Regex Moment();

    [GeneratedRegex(@"^\d{4}-\d\d-\d\d$")]
    private static partial Regex Day();

    [GeneratedRegex("^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$")]
    private static partial Regex Id();
}

/// <summary>What a filled data folder holds, and the commands to look at it with.</summary>
internal static class InventedTermSummary
{
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
            + $"{(await store.ListRepeatabilityTestsAsync(cancellationToken)).Count} repeatability tests, "
                + $"{rechecks} rechecks of reference strips");
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
