using System.ComponentModel;
using Acquire.Bench.History;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Which strips a request is about: the same words in every request that takes several.</summary>
internal sealed record StripsQuery
{
    [FromQuery(Name = "lot")]
    [Description("Only strips of this lot, by its code number.")]
    public string? Lot { get; init; }

    [FromQuery(Name = "since")]
    [Description("Only strips read on this day or later, such as 2026-09-14.")]
    public string? Since { get; init; }

    [FromQuery(Name = "until")]
    [Description("Only strips read on this day or before.")]
    public string? Until { get; init; }

    [FromQuery(Name = "last")]
    [Description("Only the last so many.")]
    public int? Last { get; init; }

    [FromQuery(Name = "line")]
    [Description("Only strips of this process line.")]
    public string? Line { get; init; }

    [FromQuery(Name = "bottle")]
    [Description("Only strips that ran in this bottle.")]
    public string? Bottle { get; init; }

    [FromQuery(Name = "process")]
    [Description("Only strips of this process, by key or name; the newest strip's when not given.")]
    public string? Process { get; init; }

    /// <exception cref="BenchException">A day is none, or the last strips are no number.</exception>
    public HistoryFilter Filter(TimeProvider time) => new StripsSaid
    {
        Lot = Lot, Since = Since, Until = Until, Last = Last, Line = Line, Bottle = Bottle, Process = Process,
    }.Filter(time.LocalTimeZone);
}

/// <summary>Which strips a list or an export is of: of all processes and bottles.</summary>
internal sealed record StripListQuery
{
    [FromQuery(Name = "lot")]
    [Description("Only strips of this lot, by its code number.")]
    public string? Lot { get; init; }

    [FromQuery(Name = "since")]
    [Description("Only strips read on this day or later, such as 2026-09-14.")]
    public string? Since { get; init; }

    [FromQuery(Name = "until")]
    [Description("Only strips read on this day or before.")]
    public string? Until { get; init; }

    [FromQuery(Name = "last")]
    [Description("Only the last so many.")]
    public int? Last { get; init; }

    [FromQuery(Name = "line")]
    [Description("Only strips of this process line.")]
    public string? Line { get; init; }

    /// <exception cref="BenchException">A day is none, or the last strips are no number.</exception>
    public HistoryFilter Filter(TimeProvider time) =>
        new StripsSaid { Lot = Lot, Since = Since, Until = Until, Last = Last, Line = Line }.Filter(time.LocalTimeZone);
}
