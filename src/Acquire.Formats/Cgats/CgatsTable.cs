using System.Collections.Frozen;

namespace Acquire.Formats.Cgats;

/// <summary>
/// One table of a CGATS.17 / ISO 28178 text file, with no meaning given to what is in it. The structure was taken from open readers and
/// writers of the format (Little CMS <c>cmscgats.c</c>, R package colorSpec, Rust crate cgats); the body of the standard was not at hand.
/// </summary>
public sealed record CgatsTable
{
    /// <summary>Keywords and values of the header, in order; what declares a keyword is not among them.</summary>
    public required ImmutableArray<CgatsKeyword> Keywords { get; init; }

    /// <summary>Names of the fields, in order.</summary>
    public required ImmutableArray<string> Fields { get; init; }

    public required ImmutableArray<CgatsSet> Sets { get; init; }

    /// <summary>Line of the file where the table begins; 1 for a table that was not read.</summary>
    public int Line { get; init; } = 1;

    /// <summary>Value of a keyword, in any case; null when the header lacks it.</summary>
    public string? this[string keyword] =>
        Keywords.FirstOrDefault(k => string.Equals(k.Name, keyword, StringComparison.OrdinalIgnoreCase))?.Value;

    /// <summary>Places of the fields of a name, in any case.</summary>
    public ImmutableArray<int> Places(params IEnumerable<string> names) =>
        [.. Enumerable.Range(0, Fields.Length).Where(i => names.Contains(Fields[i], StringComparer.OrdinalIgnoreCase))];
}

/// <summary>A keyword of a header with its value.</summary>
/// <param name="Value">Its value, without quotes; empty when it has none.</param>
public sealed record CgatsKeyword(string Name, string Value);

/// <summary>One set of data, a row of the table.</summary>
/// <param name="Line">Line of the file; 0 for a set that was not read.</param>
/// <param name="Values">A value for each field, without quotes; empty where the file has <c>""</c>.</param>
public sealed record CgatsSet(int Line, ImmutableArray<string> Values);

/// <summary>The words of the format, as open readers of it list them.</summary>
internal static class CgatsWords
{
    public const string Identifier = "CGATS.17";

    /// <summary>What every header must have.</summary>
    public static readonly string[] Required = ["ORIGINATOR", "FILE_DESCRIPTOR", "DESCRIPTOR", "CREATED"];

    /// <summary>Keywords that need no declaration.</summary>
    public static readonly FrozenSet<string> Predefined = FrozenSet.Create(
        "ORIGINATOR", "FILE_DESCRIPTOR", "DESCRIPTOR", "CREATED", "DIFFUSE_GEOMETRY", "MANUFACTURER", "PROD_DATE", "SERIAL", "MATERIAL",
        "INSTRUMENTATION", "MEASUREMENT_SOURCE",
        "PRINT_CONDITIONS", "SAMPLE_BACKING", "CHISQ_DOF", "MEASUREMENT_GEOMETRY", "FILTER", "POLARIZATION", "WEIGHTING_FUNCTION",
        "COMPUTATIONAL_PARAMETER", "TARGET_TYPE", "COLORANT", "TABLE_DESCRIPTOR", "TABLE_NAME");

    /// <summary>Fields of densities and of what goes with them; the strict writer knows no others.</summary>
    public static readonly FrozenSet<string> Fields =
        FrozenSet.Create("SAMPLE_ID", "SAMPLE_NAME", "STRING", "D_RED", "D_GREEN", "D_BLUE", "D_VIS", "D_MAJOR_FILTER");

    /// <summary>Fields whose values are text, in quotes.</summary>
    public static readonly FrozenSet<string> TextFields = FrozenSet.Create("SAMPLE_NAME", "STRING");

    /// <summary>Letters, digits and <c>- _ . : /</c>; no keyword or field has others.</summary>
    public static bool IsName(string text) =>
        text.Length > 0 && text.All(c => char.IsAsciiLetterOrDigit(c) || "-_.:/".Contains(c, StringComparison.Ordinal));
}
