namespace TruthBenchmark.Claims;

/// <summary>What a run was asked for.</summary>
/// <param name="Seed">Of all chance. Numbers of the product that were tuned are confirmed on seeds that nobody used for it.</param>
/// <param name="Short">Few draws: all groups within two minutes of one core.</param>
internal sealed record Run(long Seed, bool Short)
{
    /// <summary>How many draws to take.</summary>
    public int Draws(int many, int few) => Short ? few : many;
}

/// <summary>A group of claims.</summary>
internal interface IClaims
{
    string Name { get; }

    IEnumerable<Claim> Of(Run run);
}
