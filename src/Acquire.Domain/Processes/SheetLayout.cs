namespace Acquire.Domain.Processes;

/// <summary>A strip layout of a process: its patches in reading order, and what is known of their exposures.</summary>
public sealed record SheetLayout
{
    /// <summary>The key of a layout that is given none.</summary>
    public const string UsualKey = "usual";

    /// <summary>The most patches a layout may have.</summary>
    public const int MostPatches = 100;

    /// <exception cref="ImpossibleValueException">No key, or one with blanks; no name; not 1 … 100
    /// patches; two patches of one key, name or log exposure.</exception>
    public SheetLayout(
        string key, string name, ImmutableArray<LayoutPatch> patches, ExposureScale scale = ExposureScale.Relative, string? note = null)
    {
        Key = Guard.Text(key, "The key of a strip layout");
        Guard.That(!Key.Any(char.IsWhiteSpace), $"The key of a strip layout has no blanks; '{Key}' has.");
        // Keys of patches are looked at there, alike for strips with and without log exposures.
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
    public static SheetLayout Of(StripLayout strip) =>
        new SheetLayout(UsualKey, strip.Name, [.. strip.Patches.Select(p => new LayoutPatch(p))]);

    /// <summary>Finds a patch by its key, in any case; null when the layout has none.</summary>
    public LayoutPatch? Find(string patchKey) => Patches.FirstOrDefault(p => Keys.Same(p.Patch.Key, patchKey));
}

/// <summary>One patch of a layout, with what the process sheet knows of it.</summary>
public sealed record LayoutPatch
{
    /// <param name="logH">log10 of its exposure; null when it is not known.</param>
    /// <param name="role">What it is read for.</param>
    /// <exception cref="ImpossibleValueException">The log exposure is not finite.</exception>
    public LayoutPatch(Patch patch, double? logH = null, PatchRole role = PatchRole.Judged)
    {
        Patch = patch ?? throw new ImpossibleValueException("A layout needs its patches.");
        LogH = logH is { } h ? Guard.Finite(h, $"The log exposure of {patch.Name}") : null;
        Role = role;
    }

    public Patch Patch { get; }

    /// <summary>log10 of its exposure, on the scale of the layout; null when it is not known.</summary>
    public double? LogH { get; }

    public PatchRole Role { get; }
}

public enum PatchRole
{
    /// <summary>Parameters may be taken of it alone.</summary>
    Judged,

    /// <summary>It helps to draw the curve; no parameter is taken of it alone.</summary>
    Curve,
}

/// <summary>What the log exposures of a layout count from.</summary>
public enum ExposureScale
{
    /// <summary>From a point of their own: only differences mean something, as
    /// on every control strip whose exposure is not stated.</summary>
    Relative,

    /// <summary>They are log10 of an exposure in lux seconds.</summary>
    LuxSeconds,
}
