using Acquire.Storage.Records;

namespace Acquire.Bench.History;

/// <summary>Which strips are meant, as people say it; what is null does not restrict.</summary>
public sealed record StripsSaid
{
    /// <summary>Code number of their lot.</summary>
    public string? Lot { get; init; }

    /// <summary>The first day on which they were read, such as <c>2026-09-14</c>.</summary>
    public string? Since { get; init; }

    /// <summary>The last such day.</summary>
    public string? Until { get; init; }

    /// <summary>How many; the last ones read.</summary>
    public int? Last { get; init; }

    /// <summary>The process line they ran in.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle they ran in.</summary>
    public string? Bottle { get; init; }

    /// <summary>Key or name of their process; null for that of the newest strip.</summary>
    public string? Process { get; init; }

    /// <param name="zone">Tells by which clock a day begins and ends.</param>
    /// <exception cref="BenchException">A day is none, or the last strips are no number.</exception>
    public HistoryFilter Filter(TimeZoneInfo zone) => Last is < 1
        ? throw new BenchException("--last takes a whole number from 1.")
        : new HistoryFilter(
            new StripFilter
            {
                LotCode = Lot,
                Line = Line,
                From = Since is { } since ? GivenDay.Begin(GivenDay.Of(since), zone) : null,
                Before = Until is { } until ? GivenDay.End(GivenDay.Of(until), zone) : null,
                Last = Last,
            },
            Bottle,
            Process);
}
