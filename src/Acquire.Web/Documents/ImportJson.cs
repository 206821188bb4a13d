using Acquire.Bench.Import;
using Acquire.Storage.Import;

namespace Acquire.Web.Documents;

/// <summary>What an import did, or would do, for other programs.</summary>
internal static class ImportJson
{
    /// <param name="notes">How many places of the file were worth a note.</param>
    public static ImportDocument Of(ImportReport report, int notes) => new()
    {
        File = report.Source.File,
        Hash = report.Source.Hash,
        Written = report.Written,
        Added = report.Count(ImportFate.Added),
        Revised = report.Count(ImportFate.Revised),
        AlreadyThere = report.Count(ImportFate.AlreadyThere),
        Repeated = report.Count(ImportFate.Repeated),
        Conflicts = report.Count(ImportFate.Conflict),
        Reads = report.Reads,
        Lots = report.Lots,
        Notes = notes,
        Questions = report.Questions.Select(q => new ImportQuestionDocument
        {
            Line = q.Entry.Spot.Line,
            Strip = Name(q.Entry),
            Kind = q.Asked.Kind,
            Question = q.Asked.Question,
        }),
    };

    /// <summary>What the file calls a strip, or the end of its id.</summary>
    public static string Name(ImportedEntry entry) =>
        entry.Name is { } given && !Guid.TryParse(given, out _) ? given : StripId.ShortForm(entry.Strip.Id);
}

internal sealed record ImportDocument
{
    public required string File { get; init; }
    public required string Hash { get; init; }
    public required bool Written { get; init; }
    public required int Added { get; init; }
    public required int Revised { get; init; }
    public required int AlreadyThere { get; init; }
    public required int Repeated { get; init; }
    public required int Conflicts { get; init; }
    public required long Reads { get; init; }
    public required ImmutableArray<string> Lots { get; init; }
    public required int Notes { get; init; }
    public required IEnumerable<ImportQuestionDocument> Questions { get; init; }
}

internal sealed record ImportQuestionDocument
{
    public required int Line { get; init; }
    public required string Strip { get; init; }
    public required string Kind { get; init; }
    public required string Question { get; init; }
}
