using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

/// <summary>Small profiles for tests.</summary>
internal static class ProfileTexts
{
    public const string Small = """
        {
          "name": "small",
          "title": "Small",
          "lines": [
            { "template": "R {red} G {green} B {blue}", "means": "reading" }
          ],
          "samples": [
            { "lines": ["R 0.26 G 0.62 B 0.80"], "gives": { "red": 0.26, "green": 0.62, "blue": 0.80 } }
          ]
        }
        """;

    /// <summary>The small profile with one piece of its text replaced.</summary>
    public static string With(string old, string replacement)
    {
        Assert.Contains(old, Small, StringComparison.Ordinal);
        return Small.Replace(old, replacement, StringComparison.Ordinal);
    }

    public static DeviceProfile Read(string text) => ProfileReader.Read(text, "test.json");
}
