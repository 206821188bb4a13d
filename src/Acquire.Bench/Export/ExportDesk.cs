using Acquire.Bench.Strips;
using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using Acquire.Storage.Records;

namespace Acquire.Bench.Export;

/// <summary>What a file of strips is.</summary>
public enum ExportForm
{
    /// <summary>CSV with reads, means, aims, deviations and zones, to be reckoned with elsewhere.</summary>
    Results,

    /// <summary>CSV with a row for each read; an import takes it back.</summary>
    Reads,

    /// <summary>JSON Lines of whole records; an import takes them back as they are.</summary>
    Records,

    /// <summary>CGATS.17 text; an import takes it back.</summary>
    Cgats,

    /// <summary>A workbook with plots, for people.</summary>
    Workbook,
}

/// <summary>The forms by the endings of their files.</summary>
public static class ExportForms
{
    /// <summary>The form of strips that an import takes back, or of a workbook; of reads where the ending is none of the others.</summary>
    public static ExportForm OfStrips(string ending) => ending switch
    {
        "jsonl" => ExportForm.Records,
        "xlsx" => ExportForm.Workbook,
        "cgats" or "txt" => ExportForm.Cgats,
        _ => ExportForm.Reads,
    };

    public static string Ending(this ExportForm form) => form switch
    {
        ExportForm.Records => "jsonl",
        ExportForm.Workbook => "xlsx",
        ExportForm.Cgats => "txt",
        _ => "csv",
    };
}

/// <summary>What is to be exported.</summary>
public sealed record ExportAsked(StripFilter Strips, ExportForm Form)
{
    /// <summary>Whether every revision is written; only whole records tell one from another, so other forms have the newest.</summary>
    public bool Revisions { get; init; }
}

/// <summary>Strips of the store as files.</summary>
public sealed class ExportDesk(AcquireStore store, TimeProvider time)
{
    /// <summary>Writes them one by one, however many there are, and leaves the stream open.</summary>
    /// <returns>How many were written; revisions count each.</returns>
    /// <exception cref="ExportException">There are more strips than the form can hold.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<int> WriteAsync(ExportAsked asked, Stream stream, CancellationToken cancellationToken)
    {
        var seen = 0;
        var strips = Records(asked, cancellationToken).Select(s =>
        {
            seen++;
            return s;
        });
        // By all that the store knows, as on the screen; whole records by themselves, so that they leave the next store as they came.
        var judging = asked.Form == ExportForm.Records
            ? StripJudging.WithoutStore
            : await StripJudging.LoadAsync(store, cancellationToken);
        var judged = strips.Select(s => StripExports.Of(s, judging.Judge(s)));
        await (asked.Form switch
        {
            ExportForm.Results => StripCsv.WriteAsync(judged, stream, cancellationToken),
            ExportForm.Records => StripJsonLines.WriteAsync(judged, stream, cancellationToken),
            ExportForm.Workbook => StripWorkbook.WriteAsync(judged, time.LocalTimeZone, stream, cancellationToken),
            ExportForm.Cgats => StripCgats.WriteAsync(strips, stream, cancellationToken),
            _ => StripReadsCsv.WriteAsync(strips, stream, cancellationToken),
        });
        // A workbook is written in several passes, as its columns come before its rows.
        return asked.Form == ExportForm.Workbook ? seen / StripWorkbook.Passes : seen;
    }

    private IAsyncEnumerable<StripRecord> Records(ExportAsked asked, CancellationToken cancellationToken)
    {
        var newest = store.ListStripsAsync(asked.Strips, cancellationToken);
        return asked is { Revisions: true, Form: ExportForm.Records }
            ? newest.SelectMany(async (s, token) => (IEnumerable<StripRecord>)await store.StripRevisionsAsync(s.Id, token))
            : newest;
    }
}
