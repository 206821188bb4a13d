using Acquire.Instruments.Lines;

namespace Acquire.Rendering.Monitoring;

/// <summary>How many lines there were of each state, in words.</summary>
internal sealed class EventTally
{
    private readonly SortedDictionary<LineMeaning, int> _counts = [];

    public void Add(InstrumentEvent received) => _counts[received.Meaning] = _counts.GetValueOrDefault(received.Meaning) + 1;

    public override string ToString() => _counts.Count == 0
        ? "There is no line."
        : $"{_counts.Values.Sum()} lines: {string.Join(", ", _counts.Select(c => $"{c.Value} {StateWord.Of(c.Key)}"))}.";
}
