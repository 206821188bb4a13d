using System.ComponentModel;
using Acquire.Bench.Causes;
using Acquire.Bench.History;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>The strip records.</summary>
internal static class StripRoutes
{
    public static void MapStrips(this RouteGroupBuilder api)
    {
        var strips = api.MapGroup("/strips").WithTags("strips");
        strips.MapGet("", ListAsync).Reads("listStrips", "The strips, in the order of reading.");
        strips.MapGet("/{id}", ShowAsync).Reads("showStrip", "A strip with parameters, deviations, zones and verdicts.");
        strips.MapGet("/together", TogetherAsync)
            .Reads("showStripsTogether", "Strips that ran at one state of the process, taken together.");
        strips.MapGet("/{id}/revisions", HistoryAsync)
            .Reads("listStripRevisions", "Every revision of a strip record: who, when, why, and what changed.");
        strips.MapPost("/{id}/revisions", AmendAsync)
            .Writes("amendStrip", "Correct a strip record: a new revision, the old ones stay.", AmendBody.Example);
        strips.MapGet("/{id}/causes", CausesAsync)
            .Reads(
                "rankCauses", "What may have caused the deviations of a strip, with what speaks for and against it, and what to do first.");
        strips.MapGet("/{id}/risks", RisksAsync)
            .Reads("tellRisks", "The guard bands of a strip, and what its verdicts risk.");
    }

    private static async Task<PageDocument<ListedStripDocument>> ListAsync(
        [AsParameters] StripListQuery strips,
        [AsParameters] PageQuery page,
        StripBook book,
        VerdictLevels levels,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        var limit = Paging.Limit(page);
        var filter = strips.Filter(time).Strips with { Behind = Place(page), First = limit + 1 };
        var found = await book.ListAsync(filter, levels.Of(null), cancellationToken);
        ImmutableArray<JudgedStrip> shown = [.. found.Take(limit)];
        return new PageDocument<ListedStripDocument>(
            [.. shown.Select(StripListJson.Of)],
            found.Length > limit ? Paging.CursorOf($"{shown[^1].Strip.Provenance.At:O} {shown[^1].Strip.Id}") : null);
    }

    private static StripPlace? Place(PageQuery page) => Paging.Behind(page) is not { } behind ? null
        : behind.Split(' ') is [var at, var id]
            && DateTimeOffset.TryParseExact(at, "O", CultureInfo.InvariantCulture, DateTimeStyles.None, out var readAt)
            && Guid.TryParse(id, out var strip)
            ? new StripPlace(readAt, strip)
            : throw Paging.NoCursor(page.Cursor!);

    private static async Task<StripDocument> ShowAsync(
        [Description("The strip's id, or enough of its end to tell it from others.")] string id,
        [FromQuery, Description("An earlier revision of the record; the newest when not given.")] int? revision,
        [FromQuery, Description("How sure a verdict must be, such as 0.95; as settled when not given.")] double? level,
        StripBook book,
        VerdictLevels levels,
        CancellationToken cancellationToken)
    {
        var shown = await book.ShowAsync(new StripShowRequest(id, levels.Of(level), revision), cancellationToken);
        return StripJson.Of(shown.Strip, shown.Judgement, shown.Ties, shown.Context);
    }

    private static async Task<StripsTogetherDocument> TogetherAsync(
        [FromQuery, Description("A strip; twice or more.")] string[] id,
        [FromQuery, Description("How sure a verdict must be, such as 0.95; as settled when not given.")] double? level,
        StripBook book,
        VerdictLevels levels,
        CancellationToken cancellationToken) =>
        StripsTogetherJson.Of(await book.TogetherAsync(id, levels.Of(level), cancellationToken));

    private static async Task<PageDocument<StripRevisionDocument>> HistoryAsync(
        string id, [AsParameters] PageQuery page, StripBook book, CancellationToken cancellationToken) => Paging.Of(
        page,
        [.. StripRevisionJson.Of(await book.HistoryAsync(id, cancellationToken))],
        r => r.Revision.ToString(CultureInfo.InvariantCulture),
        r => r);

    private static async Task<Created<StripRevisionDocument>> AmendAsync(
        string id, AmendBody body, Caller caller, StripBook book, CancellationToken cancellationToken)
    {
        var amended = await book.AmendAsync(new AmendRequest(id, body.Amendment(caller.Name), body.Lot), cancellationToken);
        return TypedResults.Created(
            $"/api/v1/strips/{amended.After.Id}", StripRevisionJson.Of(amended.After, amended.Before));
    }

    private static async Task<CauseDocument> CausesAsync(
        string id,
        [FromQuery, Description("A fault that a test has ruled out, by key; may be repeated.")] string[]? ruleOut,
        CauseDesk desk,
        CancellationToken cancellationToken) =>
        CauseJson.Of(await desk.AskAsync(new CauseAsked(id, ruleOut ?? []), cancellationToken));

    private static async Task<RiskDocument> RisksAsync(
        string id,
        [FromQuery, Description("How sure a verdict must be, such as 0.95; as settled when not given.")] double? level,
        AcquireStore store,
        VerdictLevels levels,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        var sure = levels.Of(level);
        return RiskJson.Of(sure, await StripRisks.OfAsync(store, id, sure, time, cancellationToken));
    }
}

/// <summary>A correction of a record; what is not named stays as it was.</summary>
internal sealed record AmendBody
{
    public static AmendBody Example { get; } = new()
    {
        Reason = "the second read was of a scratch",
        Tags = new Dictionary<string, string?> { ["note"] = "scratched at the hd patch" },
        Exclude = [new ExcludedBody { Patch = "hd", Read = 2, Reason = "scratch" }],
    };

    /// <summary>Why; kept with the revision.</summary>
    public required string Reason { get; init; }

    /// <summary>The lot it is really of; judged anew by that lot's reference in force when the strip was read.</summary>
    public string? Lot { get; init; }

    /// <summary>Texts said of the strip, by name: line, bottle, note, handling. One that is empty or null is taken out.</summary>
    public IReadOnlyDictionary<string, string?>? Tags { get; init; }

    /// <summary>Reads and patches that do not count.</summary>
    public IReadOnlyList<ExcludedBody>? Exclude { get; init; }

    /// <summary>Reads and patches that count again.</summary>
    public IReadOnlyList<PlaceBody>? Include { get; init; }

    /// <exception cref="BenchException">A strip has no such text.</exception>
    public StripAmendment Amendment(string by) => new(Reason, by)
    {
        Tags = before => (Tags ?? new Dictionary<string, string?>()).Aggregate(before, Tagged),
        Excluded = [.. Given.Items(Exclude, "exclude").Select(e => (new ReadPlace(e.Patch, e.Read), e.Reason))],
        Included = [.. Given.Items(Include, "include").Select(p => new ReadPlace(p.Patch, p.Read))],
    };

    private static StripTags Tagged(StripTags tags, KeyValuePair<string, string?> said) =>
        StripTags.Texts.FirstOrDefault(t => t.Name == said.Key) is { } text
            ? text.With(tags, string.IsNullOrEmpty(said.Value) ? null : said.Value)
            : throw new BenchException(
                $"'{said.Key}' is nothing that is said of a strip; expected {string.Join(", ", StripTags.Texts.Select(t => t.Name))}.");
}

/// <summary>A read, or without its number the whole patch.</summary>
internal sealed record PlaceBody
{
    /// <summary>Key or name of the patch.</summary>
    public required string Patch { get; init; }

    /// <summary>Number of the read, from 1.</summary>
    public int? Read { get; init; }
}

/// <summary>A read or patch that does not count, with the reason.</summary>
internal sealed record ExcludedBody
{
    /// <summary>Key or name of the patch.</summary>
    public required string Patch { get; init; }

    /// <summary>Number of the read, from 1.</summary>
    public int? Read { get; init; }

    public required string Reason { get; init; }
}
