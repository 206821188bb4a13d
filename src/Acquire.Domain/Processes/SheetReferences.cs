namespace Acquire.Domain.Processes;

/// <summary>Checks that what a parameter refers to is in its sheet.</summary>
internal static class SheetReferences
{
    /// <exception cref="ImpossibleValueException">Something is not there, or cannot serve.</exception>
    public static void Check(Parameter parameter, ProcessSheet sheet)
    {
        switch (parameter)
        {
            case PatchParameter patch:
                CheckPatches(parameter, [patch.PatchKey], sheet);
                CheckRole(parameter, patch.PatchKey, sheet);
                break;
            case DifferenceParameter difference:
                CheckPatches(parameter, [difference.PatchKey, difference.MinusPatchKey], sheet);
                CheckRole(parameter, difference.PatchKey, sheet);
                CheckRole(parameter, difference.MinusPatchKey, sheet);
                break;
            case CurveParameter curve:
                CheckPatches(parameter, [.. curve.PatchKeys], sheet);
                break;
            case SpreadParameter spread when !Channels.Colours.All(ProcessSheet.ChannelsOf(sheet.Get(spread.OfKey)).Contains):
                throw new ImpossibleValueException(
                    $"{spread.Name} is the spread of '{spread.OfKey}', which must be a patch, a difference or of the curve, in red, green and blue.");
            default:
                break;
        }

        var stray = parameter.ChannelLimits.Keys.Except(ProcessSheet.ChannelsOf(parameter)).ToList();
        if (stray.Count > 0)
        {
            throw new ImpossibleValueException($"{parameter.Name} has limits for {stray[0].Word()}, in which it is not charted.");
        }
    }

    private static void CheckPatches(Parameter parameter, IReadOnlyList<string> keys, ProcessSheet sheet)
    {
        if (sheet.Layouts.Any(l => l.Carries(parameter)))
        {
            return;
        }

        foreach (var key in keys)
        {
            if (sheet.Layouts.All(l => l.Find(key) is null))
            {
                // The one layout says what it has; of several, each may lack something else.
                _ = sheet.Layouts.Length == 1
                    ? sheet.Layout.GetByKey(key)
                    : throw new ImpossibleValueException($"{parameter.Name} needs the patch '{key}', which no strip layout of '{sheet.Key}' has.");
            }
        }

        throw new ImpossibleValueException(parameter is CurveParameter
            ? $"{parameter.Name} is taken of a curve, so a strip layout must have two patches with a log exposure (logH) at least{With(keys)}."
            : $"{parameter.Name} needs a strip layout that has {string.Join(" and ", keys)} together.");
    }

    private static string With(IReadOnlyList<string> keys) => keys.Count == 0 ? "" : $", and {string.Join(" and ", keys)}";

    private static void CheckRole(Parameter parameter, string key, ProcessSheet sheet)
    {
        if (sheet.Layouts.FirstOrDefault(l => l.Find(key) is { Role: PatchRole.Curve }) is { } layout)
        {
            throw new ImpossibleValueException(
                $"{parameter.Name} is taken of the patch '{key}', which only draws the curve in the strip layout '{layout.Strip.Name}'; its role must be judged.");
        }
    }
}
