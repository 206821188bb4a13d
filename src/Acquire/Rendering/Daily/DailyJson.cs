using Acquire.Bench.Daily;

namespace Acquire.Rendering.Daily;

/// <summary>The day for other programs. Names are a contract; new ones may be added.</summary>
internal static class DailyJson
{
    public static object Of(DailyBoard board) => new
    {
        At = board.Facts.Now,
        board.Answer,
        board.Stops,
        Lines = board.Lines.Select(l => new
        {
            Line = l.Facts.Name,
            l.Facts.Process,
            l.Says,
            l.NeedsStrip,
            l.Why,
            StripId = l.Facts.Newest?.StripId,
            StripAt = l.Facts.Newest?.At,
            StripAgeDays = l.StripAge?.TotalDays,
            Lot = l.Facts.Newest?.Lot,
            Moving = l.Facts.Moving.Select(f => new { f.ParameterKey, f.Shape, f.Began, f.Step, f.Sentence }),
        }),
        Bottles = board.Facts.Bottles.Select(b => new
        {
            Bottle = b.State.Bottle.Name,
            Solution = b.State.Solution.Name,
            AgeDays = b.State.Age?.TotalDays,
            b.State.AreaPerLitre,
            Worst = b.Standing?.Worst?.Name,
            Deviation = b.Standing?.Worst is null ? null : (double?)b.Standing.Deviation,
            InsideProbability = b.Standing?.Worst is null ? null : (double?)b.Standing.InsideProbability,
            DaysLeft = b.Standing?.DaysLeft?.Estimate,
        }),
        Instruments = board.Facts.Instruments.Select(
            i => new { i.Profile, CheckDueAt = i.Check.InForce?.DueAt, CheckLacking = i.Check.Lacking, i.HasRepeatability }),
        Lots = board.Facts.Lots.Select(l => new { l.Code, l.Left, l.DaysToExpiry }),
        Unfinished = board.Facts.Unfinished.Select(u => new { u.What, u.Id }),
        First = board.ToDo,
    };
}
