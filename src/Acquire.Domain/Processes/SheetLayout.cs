namespace Acquire.Domain.Processes;

/// <summary>A strip layout of a process: its patches in reading order, and what is known of their exposures.</summary>
public sealed record SheetLayout
{
    /// <summary>The key of a layout that is given none.</summary>
    public const string UsualKey = "usual";

    /// <summary>The most patches a layout may have.</summary>
    public const int MostPatches = 100;

    /// <summary>Makes a layout.</summary>
    /// <exception cref="ImpossibleValueException">
    /// No key, or one with blanks; no name; not 1 … 100 patches; two patches of one key, name or log exposure.
    /// </exception>
    public SheetLayout(
        string key, string name, ImmutableArray<LayoutPatch> patches, ExposureScale scale = ExposureScale.Relative, string? note = null)
    {
        Key = Guard.Text(key, "The key of a strip layout");
        if (Key.Any(char.IsWhiteSpace))
        {
            throw new ImpossibleValueException($"The key of a strip layout has no blanks; '{Key}' has.");
        }

        Strip = new StripLayout(name, patches.IsDefault ? default : [.. patches.Select(p => p.Patch)]);
        Patches = patches.Length <= MostPatches
            ? patches
            : throw new ImpossibleValueException($"A strip layout has 1 to {MostPatches} patches; '{name}' has {patches.Length}.");
        (Scale, Note) = (scale, note);
        Guard.Unique(
            Patches.Where(p => p.LogH is not null),
            p => p.LogH!.Value.ToString(System.Globalization.CultureInfo.InvariantCulture),
            $"In the strip layout '{name}' the log exposure");
    }

    /// <summary>The short word used in commands, such as <c>twelve</c>.</summary>
    public string Key { get; }

    /// <summary>Name and patches, as a lot takes them over.</summary>
    public StripLayout Strip { get; }

    /// <summary>The patches in reading order.</summary>
    public ImmutableArray<LayoutPatch> Patches { get; }

    /// <summary>What the log exposures count from.</summary>
    public ExposureScale Scale { get; }

    /// <summary>What the user should know of this layout.</summary>
    public string? Note { get; }

    /// <summary>A layout of which nothing but the patches is known.</summary>
    public static SheetLayout Of(StripLayout strip)
    {
        ArgumentNullException.ThrowIfNull(strip);
        return new SheetLayout(UsualKey, strip.Name, [.. strip.Patches.Select(p => new LayoutPatch(p))]);
    }

    /// <summary>Finds a patch by its key, in any case; null when the layout has none.</summary>
    public LayoutPatch? Find(string patchKey) =>
        Patches.FirstOrDefault(p => string.Equals(p.Patch.Key, patchKey, StringComparison.OrdinalIgnoreCase));

    /// <summary>Whether a parameter can be taken of strips of this layout. A spread is not looked at: it lies where its parameter lies.</summary>
    public bool Carries(Parameter parameter) => parameter switch
    {
        PatchParameter patch => Find(patch.PatchKey) is not null,
        DifferenceParameter difference => Find(difference.PatchKey) is not null && Find(difference.MinusPatchKey) is not null,
        CurveParameter curve => Patches.Count(p => p.LogH is not null) >= 2 && curve.PatchKeys.All(k => Find(k) is not null),
        _ => true,
    };
}
