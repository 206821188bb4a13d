using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Life;

/// <summary>
/// Which parameters say anything of a kind of solution: retained silver is no sign of a developer, however long it stands.
/// </summary>
internal static class LifeVotes
{
    /// <summary>A fault that moves a parameter by less of its action limit hardly moves it: judgement, no source.</summary>
    private const double Moved = 0.2;

    /// <summary>Whether faults of such a solution move a parameter towards its limit, by the fault signatures of the process; where none
    /// are known of such a solution, every parameter may say something.</summary>
    public static bool Say(SolutionKind kind, Parameter parameter, Channel? channel, ProcessSheet sheet)
    {
        var faults = FaultSignatures.Of(sheet.Key).Where(f => IsOf(f, kind)).ToList();
        return faults.Count == 0 || parameter.LimitsIn(channel).Action is not { } limit
            || faults.Exists(f => Move(f, parameter, channel) is not { } move
                || (move > 0 ? limit.Upper : -limit.Lower) * Moved <= Math.Abs(move));
    }

    private static bool IsOf(FaultSignature fault, SolutionKind kind) => kind switch
    {
        SolutionKind.Developer or SolutionKind.FirstDeveloper or SolutionKind.ColourDeveloper =>
            fault.Family == FaultFamily.DeveloperWeak || fault.Family == FaultFamily.DeveloperStrong
                || fault.Family == FaultFamily.Contamination,
        SolutionKind.Bleach => fault.MendedBy == Treatment.ReBleach,
        SolutionKind.Fixer => fault.MendedBy == Treatment.ReFix,
        SolutionKind.BleachFix => fault.MendedBy is Treatment.ReBleach or Treatment.ReFix,
        _ => false,
    };

    /// <summary>What a fault does to a parameter; null where the signature does not tell.</summary>
    private static double? Move(FaultSignature fault, Parameter parameter, Channel? channel) => channel is not { } c ? null
        : parameter.Match<double?>(
            patch => Known(fault, patch.PatchKey, c),
            difference => Known(fault, difference.PatchKey, c) - Known(fault, difference.MinusPatchKey, c),
            _ => null,
            _ => null);

    private static double? Known(FaultSignature fault, string patch, Channel channel) =>
        fault.Sizes.ContainsKey(patch) ? fault.Size(patch, channel) : null;
}
