using System.Buffers.Text;
using System.ComponentModel;
using System.Text;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Which part of a list is wanted.</summary>
internal sealed record PageQuery
{
    [FromQuery(Name = "limit")]
    [Description("How many at most, 1 to 1000; 100 when not given.")]
    public int? Limit { get; init; }

    [FromQuery(Name = "cursor")]
    [Description("Where to go on: what the answer before gave as next. It means nothing by itself.")]
    public string? Cursor { get; init; }
}

/// <summary>A part of a list.</summary>
/// <param name="Next">The cursor that goes on behind it; null at the end.</param>
internal sealed record PageDocument<T>(IReadOnlyList<T> Items, string? Next);

internal static class Paging
{
    private const int Usual = 100, Most = 1000;

    /// <summary>A part of a list that is at hand.</summary>
    /// <param name="key">What tells an item from the others, and stays the same.</param>
    /// <param name="all">The list.</param>
    /// <param name="page">The part.</param>
    /// <param name="document">What is told of an item.</param>
    public static PageDocument<TDocument> Of<T, TDocument>(
        PageQuery page, IReadOnlyList<T> all, Func<T, string> key, Func<T, TDocument> document)
    {
        var limit = Limit(page);
        var from = 0;
        if (Behind(page) is { } behind)
        {
            from = all.Index().Where(i => key(i.Item) == behind).Select(i => i.Index + 1).LastOrDefault();
            if (from == 0)
            {
                throw NoCursor(page.Cursor!);
            }
        }

        var taken = all.Skip(from).Take(limit).ToList();
        return new PageDocument<TDocument>(
            [.. taken.Select(document)], from + taken.Count < all.Count ? CursorOf(key(taken[^1])) : null);
    }

    /// <exception cref="BadHttpRequestException">It is out of bounds.</exception>
    public static int Limit(PageQuery page) => page.Limit is null or (>= 1 and <= Most)
        ? page.Limit ?? Usual
        : throw new BadHttpRequestException($"limit takes a whole number from 1 to {Most}, not {page.Limit}.");

    /// <summary>The key behind which a part begins; null for the beginning of the list.</summary>
    /// <exception cref="BadHttpRequestException">The cursor is none.</exception>
    public static string? Behind(PageQuery page)
    {
        try
        {
            return page.Cursor is null ? null : Encoding.UTF8.GetString(Base64Url.DecodeFromChars(page.Cursor));
        }
        catch (FormatException)
        {
            throw NoCursor(page.Cursor!);
        }
    }

    public static string CursorOf(string key) => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(key));

    public static BadHttpRequestException NoCursor(string given) => new(
        $"'{(given.Length > 60 ? given[..60] + "…" : given)}' is no cursor of this list; give what an answer named as next, or none.");
}
