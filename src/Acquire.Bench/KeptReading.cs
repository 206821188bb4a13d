namespace Acquire.Bench;

/// <summary>What a reading gave, once all was read and its record kept.</summary>
public abstract record KeptReading
{
    /// <summary>Whether what was read is as it should be: the strip not out, the check passed, the test good enough.</summary>
    public abstract bool Holds { get; }
}
