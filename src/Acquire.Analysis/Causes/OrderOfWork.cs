namespace Acquire.Analysis.Causes;

/// <summary>What to do, in the order the trade works in (US Navy <i>Photography (Advanced)</i>; US Army SS0514):
/// reading, instrument, strip, a second strip, and only then the solutions; the easiest or likeliest first, one
/// thing at a time. It gives no mixing prescriptions.</summary>
internal static class OrderOfWork
{
    private const double WorthATest = 0.05;

    /// <summary>The patches that tell retained silver from contrast, by their blue density.</summary>
    private static readonly string[] SilverPatches = ["dmax", "yellow"];

    public static ImmutableArray<string> Of(ImmutableArray<CauseGroup> groups, ImmutableArray<EvidenceCell> cells, CauseContext context)
    {
        var steps = ImmutableArray.CreateBuilder<string>();
        steps.Add(First(groups));
        // A mistake costs nothing to look for.
        steps.AddRange(groups
            .Where(g => g.Family.Origin is FaultOrigin.Reading && g.Probability >= WorthATest)
            .Select(g => g.Causes[0].Of.FirstCheck)
            .Where(c => !steps.Contains(c)));
        steps.AddRange(FaultFamily.BeforeSolutions.Select(f => CheckOf(groups, f)));
        var isTested =
            FaultSignatures.All.Any(f => IsTestedByBleach(f) && (context.BorneOut.Contains(f.Key) || context.RuledOut.Contains(f.Key)));
        if (!isTested && NeedsBleachTest(groups, cells) is { } why)
        {
            steps.Add($"Bleach and fix this strip again in solutions known to be good, and read it: {why}");
        }

        steps.Add("Run a second strip at once: two strips seldom give the same false alarm.");
        var inSolutions =
            groups.Where(g => g.Family.Origin is FaultOrigin.Process).SelectMany(g => g.Causes).OrderByDescending(c => c.Probability);
        foreach (var cause in inSolutions.Where(c => c.Probability >= WorthATest && (isTested || !IsTestedByBleach(c.Of))).Take(3))
        {
            steps.Add(StepOf(cause.Of, context));
        }

        if (groups.FirstOrDefault(g => g.Family.Origin is FaultOrigin.Unknown) is { Probability: >= WorthATest })
        {
            steps.Add(Possibilities.SomethingElse.FirstCheck);
        }

        steps.Add("Change one thing only, and run another strip to prove it. Gloves and goggles near the solutions; the product's safety "
            + "data sheet rules.");
        return steps.ToImmutable();
    }

    /// <summary>Reading is the cheapest to do again, and a likely mistake says what to look for in it.</summary>
    private static string First(ImmutableArray<CauseGroup> groups) => groups switch
    {
        [{ Family.Origin: FaultOrigin.Reading, Causes: [var mistake, ..] }, ..] when mistake.Of.Family == FaultFamily.Reading =>
            mistake.Of.FirstCheck,
        [{ Family.Origin: FaultOrigin.Unknown }, ..] =>
            "Read the strip again before anything else, as no known fault fits it: right patch, right end, emulsion side, clean, dry.",
        _ => "Look at the strip again: right patch, right end, emulsion side, clean, dry. Read it once more.",
    };

    /// <summary>What a name says behind its colon are the reasons to look for once a test has borne the fault out.</summary>
    private static string StepOf(Possibility fault, CauseContext context)
    {
        var (name, reasons) = fault.Name.Split(": ", 2) is [var brief, var rest] ? (brief, rest) : (fault.Name, "");
        return !context.BorneOut.Contains(fault.Key) ? $"{Capital(name)}: {Lower(fault.FirstCheck)}"
            : reasons.Length > 0 ? $"{Capital(name)} is borne out; look for the reason: {reasons}."
            : $"{Capital(name)} is borne out; look for the reason in that bath.";
    }

    /// <summary>Such a fault's own first check is the test itself, so it is no further step.</summary>
    private static bool IsTestedByBleach(Possibility fault) => fault is FaultSignature { MendedBy: Treatment.ReBleach };

    private static string CheckOf(ImmutableArray<CauseGroup> groups, FaultFamily family) =>
        groups.FirstOrDefault(g => g.Family == family) is { Probability: >= WorthATest, Causes: [var first, ..] }
            ? first.Of.FirstCheck
            : family.GeneralCheck!;

    private static string? NeedsBleachTest(ImmutableArray<CauseGroup> groups, ImmutableArray<EvidenceCell> cells)
    {
        if (groups.Any(g => g.Family.BleachTest is BleachTest.WhenProbable && g.Probability >= WorthATest))
        {
            return "if it comes back, bleach or fixer was the cause.";
        }

        var seesSilver = SilverPatches.All(k => cells.Any(c => Keys.Same(c.PatchKey, k) && c.Channel == Channel.Blue));
        return groups is [{ Family.BleachTest: BleachTest.WhenSilverIsUnseen }, ..] && !seesSilver
            ? "without D-max and yellow patches, retained silver looks like high contrast."
            : null;
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Lower(string text) => char.ToLowerInvariant(text[0]) + text[1..];
}
