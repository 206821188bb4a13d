namespace Acquire.Instruments.Learning;

/// <summary>One way to see the shown values on the captured lines.</summary>
/// <param name="Scanner">How numbers are written.</param>
/// <param name="Readings">The lines of each whole shown reading, in order.</param>
internal sealed record Interpretation(ValueScanner Scanner, ImmutableArray<ImmutableArray<ReadingLine>> Readings)
{
    /// <summary>Whether each channel comes on a line of its own.</summary>
    public bool IsChannelPerLine => Readings[0].Length > 1;

    /// <summary>The channels in the order in which they come.</summary>
    public ImmutableArray<Channel> Order => [.. Readings[0].SelectMany(l => l.Values).Select(v => v.Channel)];

    /// <summary>Tells two interpretations apart.</summary>
    public string Key => string.Join(
        '|', Readings.SelectMany(r => r).Select(l => $"{l.Index}:{string.Join(',', l.Values.Select(v => $"{v.Channel}@{v.Span.Start}"))}"));
}

/// <summary>A line that holds densities.</summary>
/// <param name="Index">Which of the captured lines.</param>
/// <param name="Text">The line.</param>
/// <param name="Values">Its densities from left to right.</param>
internal sealed record ReadingLine(int Index, string Text, ImmutableArray<(Channel Channel, ValueSpan Span)> Values);
