using System.Collections.Frozen;

namespace Acquire.Formats.Cgats;

/// <summary>The words of the format, as open readers of it list them.</summary>
internal static class CgatsWords
{
    public const string Identifier = "CGATS.17";

    /// <summary>What every header must have.</summary>
    public static readonly string[] Required = ["ORIGINATOR", "FILE_DESCRIPTOR", "DESCRIPTOR", "CREATED"];

    /// <summary>Keywords that need no declaration.</summary>
    public static readonly FrozenSet<string> Predefined = FrozenSet.Create(
        "ORIGINATOR", "FILE_DESCRIPTOR",
        "DESCRIPTOR", "CREATED", "DIFFUSE_GEOMETRY", "MANUFACTURER", "PROD_DATE", "SERIAL", "MATERIAL", "INSTRUMENTATION",
        "MEASUREMENT_SOURCE",
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
