using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests;

/// <summary>A fault by its key, for tests and benchmarks that make strips with it.</summary>
internal static class KnownFault
{
    public static FaultSignature Of(string key) => FaultSignatures.All.Single(s => s.Key == key);
}
