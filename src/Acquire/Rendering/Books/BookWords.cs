using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Ages and states in words.</summary>
internal static class BookWords
{
    /// <summary>An age as people say it: <c>12 days</c>, <c>5 h</c>, <c>20 min</c>.</summary>
    public static string Age(TimeSpan age) => age switch
    {
        { TotalHours: < 1 } => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalMinutes):0} min"),
        { TotalHours: < 48 } => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalHours):0} h"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalDays):0} days"),
    };

    /// <summary>One line about a bottle at a moment.</summary>
    public static string Line(BottleState state)
    {
        var through = state.Filled + state.ToppedUp > 0 ? $" through {EntryText.Litres(state.Filled + state.ToppedUp)}" : "";
        return $"Bottle {state.Bottle.Name}: {Mixed(state)}, {Opened(state)}, "
            + (state.AreaUsed > 0 ? $"{EntryText.Area(state.AreaUsed)}{through}" : "no film yet")
            + (state.DiscardedAt is null ? "" : ", discarded");
    }

    public static string Mixed(BottleState state) => state.Age is { } age ? $"mixed {Age(age)} before" : "not yet mixed";

    public static string Opened(BottleState state) => state.SinceOpening is { } open ? $"open {Age(open)}" : "not opened";

    /// <summary>One line about a line's method at a moment; null when none is known.</summary>
    public static string? Line(LineState state) =>
        EntryText.Method(state.Agitation, state.Temperature, state.Time) is { Length: > 0 } method ? $"Line {state.Line.Name}: {method}" : null;

    /// <summary>How full, such as <c>700 mL of 1 L</c>.</summary>
    public static string Fill(BottleState state) => state.Storage.Capacity is { } capacity
        ? string.Create(CultureInfo.InvariantCulture, $"{EntryText.Litres(state.Left)} of {EntryText.Litres(capacity)} ({state.FillShare:0%})")
        : EntryText.Litres(state.Left);
}
