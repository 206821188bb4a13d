using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Strips;

public class StripLayoutTests
{
    [Theory]
    [InlineData("ld")]
    [InlineData("LD")]
    public void Patch_is_found_by_key_in_any_case(string key) => Assert.Equal("LD", Some.Layout.GetByKey(key).Name);

    [Theory]
    [InlineData("dmin")]
    [InlineData("D-min")]
    [InlineData("d-MIN")]
    public void Patch_is_found_by_key_or_name_in_any_case(string keyOrName) => Assert.Equal("dmin", Some.Layout.Get(keyOrName).Key);

    [Fact]
    public void Key_comes_before_a_name_that_is_the_same() =>
        Assert.Equal("x", new StripLayout("odd", [new Patch("y", "X"), new Patch("x", "Z")]).Get("x").Key);

    [Fact]
    public void Unknown_patch_is_null_or_refused_with_those_there_are()
    {
        Assert.Null(Some.Layout.Find("yellow"));
        Refused("The strip layout 'three' has no patch 'yellow'; it has dmin, ld, hd.", () => Some.Layout.Get("yellow"));
    }

    [Fact]
    public void Name_is_no_key() => Refused("has no patch 'D-min'", () => Some.Layout.GetByKey("D-min"));

    [Fact]
    public void Impossible_layout_is_refused()
    {
        Refused("The name of a strip layout", () => new StripLayout(" ", [new Patch("a", "A")]));
        Refused("must not be empty", () => new StripLayout("none", []));
        Refused("must not be empty", () => new StripLayout("none", default));
        Refused("The patch key 'a' is named twice.", () => new StripLayout("two", [new Patch("a", "A"), new Patch("A", "B")]));
        Refused("The patch name 'X' is named twice.", () => new StripLayout("two", [new Patch("a", "X"), new Patch("b", "x")]));
    }

    [Theory]
    [InlineData("", "LD", "The key of a patch must not be empty.")]
    [InlineData("l d", "LD", "The key of a patch has no blanks; 'l d' has.")]
    [InlineData("ld", "", "The name of a patch must not be empty.")]
    public void Impossible_patch_is_refused(string key, string name, string says) => Refused(says, () => new Patch(key, name));
}
