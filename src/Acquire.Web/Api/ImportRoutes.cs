using System.ComponentModel;
using Acquire.Bench.Import;
using Acquire.Formats.Tables;
using Acquire.Storage.Import;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Strips from a file: all of it or nothing, with the findings of the command.</summary>
internal static class ImportRoutes
{
    public static void MapImport(this RouteGroupBuilder api) => api.MapPost("/import", ImportAsync)
        .WithTags("files")
        .WithMetadata(new TakesFiles())
        .Accepts<string>("application/octet-stream", "text/csv", "text/plain", "application/jsonl", "multipart/form-data")
        .Writes("importStrips", "Take strips from a file, or with dryRun find out what that would do: the body is the file, "
            + "or a form with the parts file and map. The same file a second time changes nothing.");

    private static async Task<ImportAnswerDocument> ImportAsync(
        [AsParameters] ImportQuery query,
        HttpRequest request,
        Caller caller,
        StripImporter importer,
        DataPlace place,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        // Asked before anything is received.
        var asked = query.Request(caller.Name, time);
        using var received = await ReceiveAsync(request, query.Name ?? "strips", place.Folder, cancellationToken);
        var findings = new Findings(everyStrip: asked.DryRun);
        try
        {
            return findings.Answer(await importer.RunAsync(received.Asked(asked), findings, cancellationToken));
        }
        catch (Exception e) when (e is ImportException or BenchException && received.AsNamed(e.Message) != e.Message)
        {
            throw new BenchException(received.AsNamed(e.Message), e);
        }
    }

    private static async Task<ReceivedFile> ReceiveAsync(
        HttpRequest request, string name, string dataFolder, CancellationToken cancellationToken)
    {
        if (!request.HasFormContentType)
        {
            return await ReceivedFile.OfAsync(dataFolder, name, request.Body, null, cancellationToken);
        }

        try
        {
            var form = await request.ReadFormAsync(cancellationToken);
            var sent = form.Files["file"] ?? throw new BadHttpRequestException(
                "The form has no part named file; put the file of strips there, and a column map in map.");
            return await ReceivedFile.OfAsync(
                dataFolder,
                sent.FileName.Length > 0 ? sent.FileName : name,
                sent.OpenReadStream(),
                form.Files["map"]?.OpenReadStream(),
                cancellationToken);
        }
        catch (InvalidDataException broken)
        {
            throw new BadHttpRequestException($"The form cannot be read: {broken.Message}", broken);
        }
    }

    /// <summary>What the command shows while it runs; a long list is cut, and its count says so.</summary>
    private sealed class Findings(bool everyStrip) : IImportListener
    {
        private const int Most = 1_000;

        private readonly List<ImportNoteDocument> _notes = [];
        private readonly List<ImportStripDocument> _strips = [];
        private int _all;

        public void Note(FilePlace spot, string text)
        {
            _all++;
            if (_notes.Count < Most)
            {
                _notes.Add(new ImportNoteDocument { Line = spot.Line, Text = text });
            }
        }

        public void Entry(ImportedEntry entry)
        {
            if (_strips.Count < Most && (everyStrip || entry.Fate == ImportFate.Conflict))
            {
                _strips.Add(new ImportStripDocument
                {
                    Line = entry.Spot.Line, Strip = ImportJson.Name(entry), Fate = entry.Fate, Difference = entry.Difference,
                });
            }
        }

        /// <summary>Nobody is there to be asked: the importer refuses, and says how to say it.</summary>
        public Task<DateStyle?> AskAsync(FilePlace spot, DateVerdict dates, CancellationToken cancellationToken) =>
            Task.FromResult<DateStyle?>(null);

        public ImportAnswerDocument Answer(ImportReport report) => new()
        {
            Report = ImportJson.Of(report, _all), IsRefused = report.IsRefused, Notes = _notes, Strips = _strips,
        };
    }
}

/// <summary>What an import did, or would do.</summary>
internal sealed record ImportAnswerDocument
{
    public required ImportDocument Report { get; init; }

    /// <summary>Whether strips that are stored with other values stopped it, or would.</summary>
    public required bool IsRefused { get; init; }

    /// <summary>What should be known of places of the file; the first thousand.</summary>
    public required IReadOnlyList<ImportNoteDocument> Notes { get; init; }

    /// <summary>What becomes of strips: of every one with a dry run, else of those that contradict; the first thousand.</summary>
    public required IReadOnlyList<ImportStripDocument> Strips { get; init; }
}

internal sealed record ImportNoteDocument
{
    public required int Line { get; init; }
    public required string Text { get; init; }
}

internal sealed record ImportStripDocument
{
    public required int Line { get; init; }

    /// <summary>What the file calls it, or the end of its id.</summary>
    public required string Strip { get; init; }

    public required ImportFate Fate { get; init; }

    /// <summary>What is stored otherwise; null where nothing is.</summary>
    public required string? Difference { get; init; }
}

/// <summary>How a file is imported.</summary>
internal sealed record ImportQuery
{
    [FromQuery(Name = "dryRun")]
    [Description("Write nothing; tell what would be added, what is there already, and what contradicts.")]
    public bool? DryRun { get; init; }

    [FromQuery(Name = "name")]
    [Description("What the file is called, for findings and the record.")]
    public string? Name { get; init; }

    [FromQuery(Name = "dates")]
    [Description("Order of the numbers in dates: dmy, mdy or ymd.")]
    public string? Dates { get; init; }

    [FromQuery(Name = "processedAt")]
    [Description("When the strips were processed, for a file that does not say, such as 2026-03-04T18:30.")]
    public string? ProcessedAt { get; init; }

    [FromQuery(Name = "addLots")]
    [Description("Add lots that the store lacks, without a reference: their strips show no deviation.")]
    public bool? AddLots { get; init; }

    [FromQuery(Name = "skipConflicts")]
    [Description("Leave strips that are stored with other values as they are, and import the rest.")]
    public bool? SkipConflicts { get; init; }

    [FromQuery(Name = "constant")]
    [Description("What holds for all strips of the file, as NAME=TEXT, such as lot=2417; may be repeated.")]
    public string[]? Constant { get; init; }

    /// <exception cref="BenchException">A word or a time is none.</exception>
    public ImportRequest Request(string by, TimeProvider time) => new("", by)
    {
        Dates = Dates is null ? null : Enum.TryParse<DateStyle>(Dates, ignoreCase: true, out var order) && !char.IsAsciiDigit(Dates[0])
            ? order
            : throw new BenchException($"'{Dates}' is no order of dates; expected dmy, mdy or ymd."),
        Constants = (Constant ?? []).Select(Said).GroupBy(c => c.Name).ToDictionary(c => c.Key, c => c.Last().Text),
        ProcessedAt = ProcessedAt is { } moment ? GivenDay.Moment(moment, time.LocalTimeZone) : null,
        AddLots = AddLots ?? false,
        DryRun = DryRun ?? false,
        SkipConflicts = SkipConflicts ?? false,
    };

    private static (string Name, string Text) Said(string text) =>
        text.Split('=', 2) is [var name, { Length: > 0 } said] && ImportRequest.ConstantNames.Contains(name)
            ? (name, said)
            : throw new BenchException(
                $"'{text}' holds for no file; expected NAME=TEXT with one of {string.Join(", ", ImportRequest.ConstantNames)}.");
}
