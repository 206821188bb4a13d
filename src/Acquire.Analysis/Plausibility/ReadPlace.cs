namespace Acquire.Analysis.Plausibility;

/// <summary>Where a read stands in the record.</summary>
/// <param name="PatchKey">Key of its patch.</param>
/// <param name="Index">Its index among all reads of the patch, excluded ones counted, from 0.</param>
public readonly record struct ReadPlace(string PatchKey, int Index)
{
    /// <summary>For example <c>ld#2</c> for the third read of LD.</summary>
    public override string ToString() => FormattableString.Invariant($"{PatchKey}#{Index}");
}
