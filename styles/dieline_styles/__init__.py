"""The styles that come with dieline, written against the public contract in ``dieline.style`` like anyone's."""
