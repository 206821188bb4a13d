using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests.Plausibility;

[Trait("speed", "slow")]
public class ProcessFaultTests
{
    public static TheoryData<string> Faults =>
        [.. FaultSignatures.Of("c41").Where(s => s.Origin != FaultOrigin.Instrument && s.Shows).Select(s => s.Key)];

    /// <summary>At half and at twice the usual size; <c>tools/PlausibilityBenchmark</c> counts false questions over many more.</summary>
    [Theory]
    [MemberData(nameof(Faults))]
    public void Process_fault_is_not_questioned(string fault)
    {
        var signature = KnownFault.Of(fault);
        var keys = Strip.Knowledge.Layout.Patches;
        foreach (var seed in new[] { 0, 5 })
        {
            // A third more here, a third less there.
            var random = new Random(seed);
            var size = 0.5 + (0.3 * seed);
            var densities = Strip.Moved((s, c) =>
                size * (0.7 + (0.6 * random.NextDouble())) * signature.Size(keys[s].Key, Strip.Knowledge.Sheet.ChannelsNeeded[c]));

            Assert.Null(Strip.Knowledge.FirstQuestion(Strip.Read(densities, seed))?.Question);
        }
    }
}
