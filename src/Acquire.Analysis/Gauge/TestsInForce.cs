namespace Acquire.Analysis.Gauge;

/// <summary>
/// Which repeatability test was in force, and what it told. Tests are never changed or taken away, so what was judged by one is judged by
/// the same
/// one for ever.
/// </summary>
/// <param name="tests">All tests, in the order of reading.</param>
public sealed class TestsInForce(IReadOnlyList<RepeatabilityTest> tests)
{
    private readonly Dictionary<Guid, RepeatabilityInForce> _told = [];

    /// <summary>The last test of a device profile until a moment; null when there was none.</summary>
    public RepeatabilityInForce? Until(DateTimeOffset moment, string profile) =>
        tests.LastOrDefault(t => t.Provenance.Instrument?.Profile == profile && t.Provenance.At <= moment) is { } test ? Told(test) : null;

    private RepeatabilityInForce Told(RepeatabilityTest test)
    {
        if (!_told.TryGetValue(test.Id, out var told))
        {
            _told[test.Id] = told = RepeatabilityStudy.Of(test).InForce(test.Id);
        }

        return told;
    }
}
