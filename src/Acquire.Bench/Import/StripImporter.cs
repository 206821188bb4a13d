using System.Runtime.CompilerServices;
using Acquire.Analysis.Gauge;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Questions;
using Acquire.Formats.Strips;
using Acquire.Formats.Tables;
using Acquire.Storage.Import;

namespace Acquire.Bench.Import;

/// <summary>Imports strips from a file: all of it, or nothing.</summary>
public sealed class StripImporter(AcquireStore store, ProcessLibrary processes, TimeProvider time)
{
    /// <summary>Imports, or finds out what an import would do.</summary>
    /// <exception cref="BenchException">
    /// There is no such file, or something about the dates or the map must be said first; the message says how.
    /// </exception>
    /// <exception cref="ImportException">The file cannot be read; the message says the line.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public async Task<ImportReport> RunAsync(ImportRequest request, IImportListener listener, CancellationToken cancellationToken)
    {
        if (!File.Exists(request.File))
        {
            throw new BenchException($"There is no file {request.File}.");
        }

        var source = await ImportSource.OfAsync(request.File, cancellationToken) with { File = request.Name };
        var strips = await FileKind.OfAsync(request.File, cancellationToken) switch
        {
            FileKind.Kind.JsonLines => Records(request, cancellationToken),
            FileKind.Kind.Cgats => Tables(await CgatsAsync(request, cancellationToken), request, listener, cancellationToken),
            _ => Tables(await TableAsync(request, listener, cancellationToken), request, listener, cancellationToken),
        };
        var fates = new Dictionary<ImportFate, int>();
        var lots = new SortedSet<string>(StringComparer.OrdinalIgnoreCase);
        var reads = 0L;
        var questions = ImmutableArray.CreateBuilder<ImportQuestion>();
        var asking = await WholeStripQuestions.LoadAsync(store, new LotBook(store, processes, time), time, cancellationToken);

        // The store asks Keep only when every strip has its fate, inside the transaction: a conflict in the last line undoes the first.
        var written = await store.ImportStripsAsync(strips, source, Told, Keep, cancellationToken);
        return new ImportReport
        {
            Source = source,
            Written = written,
            Strips = fates.ToImmutableSortedDictionary(),
            Reads = reads,
            Lots = [.. lots],
            Questions = questions.ToImmutable(),
            IsRefused = !Takes(),
        };

        void Told(ImportedEntry entry)
        {
            fates[entry.Fate] = fates.GetValueOrDefault(entry.Fate) + 1;
            reads += entry.Fate is ImportFate.Added or ImportFate.Revised ? entry.Strip.Patches.Sum(p => p.Reads.Length) : 0;
            if (entry.NewLot is { } lot)
            {
                _ = lots.Add(lot.Code);
            }

            if (entry is { SharesIdentity: true, Fate: ImportFate.Added })
            {
                listener.Note(
                    entry.Spot, "another strip of the file has the same date, lot and line; both are kept, told apart by their order");
            }

            listener.Entry(entry);
            // What is stored already was looked at when it came.
            if (entry.Fate is ImportFate.Added or ImportFate.Revised && asking.Of(entry.Strip) is { } asked)
            {
                questions.Add(new ImportQuestion(entry, asked));
            }
        }

        bool Takes() => request.SkipConflicts || !fates.ContainsKey(ImportFate.Conflict);

        bool Keep() => !request.DryRun && Takes();
    }

    /// <summary>Whole records need nothing of this store; a lot that it lacks is made of what the record says.</summary>
    private static async IAsyncEnumerable<IncomingStrip> Records(
        ImportRequest request, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (var (spot, strip) in StripJsonLinesReader.ReadAsync(request.File, cancellationToken))
        {
            yield return new IncomingStrip(
                spot, $"{strip.Id} {strip.Revision.Number}", _ => strip) { IsWhole = true, HasRevision = true, NewLot = LotOf };
        }
    }

    private static StripLot LotOf(StripRecord strip) => new(
        strip.LotCode,
        strip.JudgedBy.Key,
        strip.Layout,
        [.. strip.Aims
            .Where(a => a.Correction != 0 && Math.Abs(a.Correction) <= CorrectionFactor.Largest)
            .Select(a => new CorrectionFactor(a.PatchKey, a.Channel, a.Correction))],
        note: "added by an import, from the records of its strips");

    private async IAsyncEnumerable<IncomingStrip> Tables(
        IAsyncEnumerable<ImportedStrip> strips,
        ImportRequest request,
        IImportListener listener,
        [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var maker = new RecordMaker(
            new LotBook(store, processes, time),
            new TestsInForce(await store.ListRepeatabilityTestsAsync(cancellationToken)), processes, time, request);
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            var (incoming, notes) = await maker.MakeAsync(strip, cancellationToken);
            foreach (var note in notes)
            {
                listener.Note(strip.Spot, note);
            }

            yield return incoming;
        }
    }

    private async Task<IAsyncEnumerable<ImportedStrip>> TableAsync(
        ImportRequest request, IImportListener listener, CancellationToken cancellationToken)
    {
        var map = await MapAsync(request, cancellationToken);
        map = map with { Constants = map.Constants.SetItems(request.Constants) };
        var dates = request.Dates ?? map.Dates ?? await DatesAsync(request, map, listener, cancellationToken);
        return StripCsvReader.ReadAsync(request.File, map, dates, Zone(map), cancellationToken);
    }

    /// <summary>Of a map a CGATS file takes the words for patches, the order of dates and the time zone.</summary>
    private async Task<IAsyncEnumerable<ImportedStrip>> CgatsAsync(ImportRequest request, CancellationToken cancellationToken)
    {
        var map = request.Map is { } file ? await ColumnMapFile.ReadAsync(file, cancellationToken) : new ColumnMap { Rows = RowKind.Patch };
        var choices = new CgatsChoices(Zone(map), request.Dates ?? map.Dates, request.ProcessedAt, map.Patches);
        return StripCgatsReader.ReadAsync(request.File, choices, cancellationToken);
    }

    private async Task<ColumnMap> MapAsync(ImportRequest request, CancellationToken cancellationToken)
    {
        if (request.Map is { } file)
        {
            return await ColumnMapFile.ReadAsync(file, cancellationToken);
        }

        var proposal = await MapProposal.OfAsync(
            request.File, processes.Get(request.Constants.GetValueOrDefault("process") ?? "c41").Layout, cancellationToken);
        return proposal.IsSure ? proposal.Map : throw new BenchException(
            $"{request.File}: the heading is not one that this program writes, so a map must say which column is which. "
            + $"Make one, look at it, and import with it: acquire import map new --from {request.File} --out map.json");
    }

    private static async Task<DateStyle> DatesAsync(
        ImportRequest request, ColumnMap map, IImportListener listener, CancellationToken cancellationToken)
    {
        var verdict = await DateScan.OfAsync(request.File, map, cancellationToken);
        var spot = new FilePlace(request.File, verdict.Line);
        if (!verdict.IsAmbiguous)
        {
            if (verdict.Line > 0)
            {
                listener.Note(spot, $"dates are read as {Words(verdict.Style)}, as '{verdict.Text}' shows");
            }

            return verdict.Style;
        }

        return await listener.AskAsync(spot, verdict, cancellationToken) ?? throw new BenchException(
            $"{spot.File}, line {spot.Line}: '{verdict.Text}' can be "
            + string.Join(" or ", verdict.Readings.Select(r => $"{r.Reading} (--dates {Option(r.Style)})"))
            + ", and no other date of the file tells which. Give one of the two options, or write \"dates\" in the map.");
    }

    private TimeZoneInfo Zone(ColumnMap map)
    {
        if (map.TimeZone is not { } id)
        {
            return time.LocalTimeZone;
        }

        return TimeZoneInfo.TryFindSystemTimeZoneById(id, out var zone)
            ? zone
            : throw new BenchException(
                $"There is no time zone '{id}', which the map names; expected one such as Europe/Berlin, America/New_York or UTC.");
    }

    private static string Option(DateStyle style) => style.ToString().ToLowerInvariant();

    private static string Words(DateStyle style) => style switch
    {
        DateStyle.Ymd => "year, month, day",
        DateStyle.Dmy => "day, month, year",
        _ => "month, day, year",
    };
}

/// <summary>What kind of file it is, by what it says: names of files lie.</summary>
internal static class FileKind
{
    private const int Sample = 64 * 1024;

    public enum Kind
    {
        Csv,
        JsonLines,
        Cgats,
    }

    public static async Task<Kind> OfAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[Sample];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        var start = new string(begin, 0, length).TrimStart();
        return start.StartsWith('{') ? Kind.JsonLines
            : start.Contains("BEGIN_DATA", StringComparison.OrdinalIgnoreCase)
                || start.StartsWith("CGATS", StringComparison.OrdinalIgnoreCase) ? Kind.Cgats
            : Kind.Csv;
    }
}
