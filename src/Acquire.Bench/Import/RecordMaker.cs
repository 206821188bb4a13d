using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Formats.Strips;
using Acquire.Storage.Import;

namespace Acquire.Bench.Import;

/// <summary>
/// Makes records of what a table says: patches by the lot's layout, means of the reads, the aims and the repeatability in force on its day.
/// A lot without a reference gives a strip without aims, which shows densities and no deviation.
/// </summary>
internal sealed class RecordMaker(LotBook lots, TestsInForce tests, ProcessLibrary processes, TimeProvider time, ImportRequest request)
{
    private readonly Dictionary<string, LotPast?> _lots = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, ProcessSheet> _sheets = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The strip on its way into the store, and what the user should know of it.</summary>
    public async Task<(IncomingStrip Strip, IEnumerable<string> Notes)> MakeAsync(ImportedStrip given, CancellationToken cancellationToken)
    {
        var strip = Constant(given);
        var lot = await LotAsync(strip.Lot, cancellationToken);
        var sheet = Sheet(strip, lot?.Lot);
        var layout = lot?.Lot.Layout ?? sheet.Layout;
        if (strip.Status is { } status && status != sheet.Status)
        {
            throw strip.Spot.Wrong(
                $"the densities are status {status}, and strips of process {sheet.Key} are read with status {sheet.Status}");
        }

        var patches = Patches(strip, layout);
        var incoming = new IncomingStrip(strip.Spot, StripIdentity.Of(strip), before => Record(strip, before, layout, sheet, lot, patches))
        {
            Name = strip.Name,
            MayRepeat = strip.Name is null,
            HasRevision = strip.Revision is not null,
            NewLot = request.AddLots && lot is null
                ? record => new StripLot(record.LotCode, sheet.Key, layout, note: "added by an import, without a reference")
                : null,
        };
        return (incoming, [.. strip.Notes, .. Notes(strip, lot?.Lot, patches)]);
    }

    private ImportedStrip Constant(ImportedStrip strip) => strip with
    {
        Lot = request.Constants.GetValueOrDefault("lot")
            ?? (strip.Lot.Length > 0 ? strip.Lot : throw strip.Spot.Wrong("the file names no lot; give --lot CODE")),
        Process = request.Constants.GetValueOrDefault("process") ?? strip.Process,
        Tags = StripTags.InTables.Aggregate(strip.Tags, (tags, t) => t.With(tags, Text(t, tags))),
    };

    /// <summary>Where all strips ran is said for all; a note for all does not take the place of a strip's own.</summary>
    private string? Text(TextTag text, StripTags given)
    {
        var (all, own) = (request.Constants.GetValueOrDefault(text.Name), text.Of(given));
        return text.IsPlace ? all ?? own : own ?? all;
    }

    private async Task<LotPast?> LotAsync(string code, CancellationToken cancellationToken)
    {
        if (!_lots.TryGetValue(code, out var lot))
        {
            _lots[code] = lot = await lots.FindPastAsync(code, cancellationToken);
        }

        return lot;
    }

    private ProcessSheet Sheet(ImportedStrip strip, StripLot? lot)
    {
        if (lot is null && !request.AddLots)
        {
            throw strip.Spot.Wrong(
                $"there is no lot {strip.Lot} in the store. Add it (acquire lot add {strip.Lot} --process c41) and "
                + "enter its reference for deviations, or give --add-lots: then the strips come without aims");
        }

        var key = lot?.ProcessKey ?? strip.Process
            ?? throw strip.Spot.Wrong($"the file does not say which process lot {strip.Lot} is of; give --process, such as --process c41");
        return _sheets.TryGetValue(key, out var sheet) ? sheet : _sheets[key] = processes.Get(key);
    }

    private static ImmutableArray<PatchReads> Patches(ImportedStrip strip, StripLayout layout)
    {
        var given = new Dictionary<string, ImportedPatch>(StringComparer.OrdinalIgnoreCase);
        foreach (var patch in strip.Patches)
        {
            var spot = strip.Spot with { Line = patch.Line };
            var known = layout.Find(patch.Word) ?? throw spot.Wrong(
                $"there is no patch '{patch.Word}' on strips of lot {strip.Lot}; they have "
                + $"{string.Join(", ", layout.Patches.Select(p => p.Key))}. "
                + "Say in the map, under patches, which one is meant");
            if (!given.TryAdd(known.Key, patch))
            {
                throw spot.Wrong($"'{patch.Word}' and '{given[known.Key].Word}' are the same patch, {known.Key}; expected each patch once");
            }
        }

        return [.. layout.Patches.Select(
            p => given.TryGetValue(p.Key, out var patch) ? new PatchReads(p, patch.Reads, patch.LeftOut) : PatchReads.None(p))];
    }

    private StripRecord Record(
        ImportedStrip strip, int before, StripLayout layout, ProcessSheet sheet, LotPast? lot, ImmutableArray<PatchReads> patches)
    {
        // The aims of the strip's own day, as if it had been read here; whoever imports is not who read.
        var by = strip.By ?? request.Constants.GetValueOrDefault("read_by") ?? request.By;
        var inForce = lot?.At(strip.At) ?? AimsInForce.None;
        return new StripRecord(
            strip.Id ?? StripIdentity.ToId(strip, before),
            lot?.Lot.Code ?? strip.Lot,
            layout,
            sheet,
            patches,
            PatchMeans.Of(patches),
            inForce.Aims,
            new Provenance(strip.At, by, strip.Instrument),
            new Revision(strip.Revision ?? 1, request.By, time.GetUtcNow(), Reason(strip)))
        {
            ReferenceId = inForce.Reference?.Id,
            Repeatability = strip.Instrument is { } used ? tests.Until(strip.At, used.Name) : null,
            Tags = strip.Tags,
        };
    }

    private static string Reason(ImportedStrip strip) => string.Create(
        CultureInfo.InvariantCulture,
        $"imported from {Path.GetFileName(strip.Spot.File)}, line "
        + $"{strip.Spot.Line}{(strip is { Name: { } name, Id: null } ? $" (strip {name})" : "")}");

    private IEnumerable<string> Notes(ImportedStrip strip, StripLot? known, ImmutableArray<PatchReads> patches)
    {
        if (strip.At > time.GetUtcNow())
        {
            yield return "it lies in the future: check the date, and the clock of this computer, which may have been set back";
        }

        if (known is { Expires: { } last } lot && lot.IsExpiredOn(DateOnly.FromDateTime(strip.At.DateTime)))
        {
            yield return $"lot {lot.Code} had expired on {Numbers.Day(last)}; the strip is imported all the same";
        }

        if (patches.Where(p => p is { Reads.IsEmpty: true, LeftOut: null }).Select(p => p.Patch.Key).ToList() is { Count: > 0 } unread)
        {
            yield return $"no reads of {string.Join(", ", unread)}";
        }
    }
}
